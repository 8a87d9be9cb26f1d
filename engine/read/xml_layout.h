// SPDX-License-Identifier: GPL-3.0-or-later
/// XML as people edit it: two blanks a level, long tags wrapped under their first attribute.
#ifndef WHY_READ_XML_LAYOUT_H
#define WHY_READ_XML_LAYOUT_H

#include "study_sink.h"

#include <stdbool.h>

enum { WHY_LAYOUT_DEPTH = 8 }; ///< Deepest nesting that can be written.

/// Zero it but for `out`.
typedef struct {
  why_buffer* out;
  const char* names[WHY_LAYOUT_DEPTH]; ///< Of the open elements.
  int depth;
  bool tag_open; ///< The '>' of the innermost start tag is still to come.
  bool has_content;
  size_t attribute_column; ///< Where the attributes of the open tag begin.
} why_xml_layout;

/// Write the line that an XML file begins with.
void why_xml_layout_start(why_xml_layout* layout);

/// What writes to `layout`. Names given to it must live as long; empty values are left out.
why_study_sink why_xml_layout_sink(why_xml_layout* layout);

#endif
