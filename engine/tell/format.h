// SPDX-License-Identifier: GPL-3.0-or-later
/// The formats, one row each. A format turns a finished tree into bytes.
#ifndef WHY_TELL_FORMAT_H
#define WHY_TELL_FORMAT_H

#include "node.h"

typedef struct {
  const char* name;
  /// Write the tree under `root` to `out`; false when it holds nothing that the format can show.
  bool (*write)(const why_node* root, why_buffer* out);
} why_format;

/// Format number `index`, NULL behind the last; format called `name`, NULL when there is none.
const why_format* why_formats_at(size_t index);
const why_format* why_formats_find(const char* name);

bool why_text_write(const why_node* root, why_buffer* out);
bool why_json_write(const why_node* root, why_buffer* out);
bool why_page_write(const why_node* root, why_buffer* out);
bool why_page_part_write(const why_node* root, why_buffer* out);
bool why_csv_write(const why_node* root, why_buffer* out);
bool why_xml_write(const why_node* root, why_buffer* out);
bool why_sheet_write(const why_node* root, why_buffer* out);
bool why_dot_write(const why_node* root, why_buffer* out);
bool why_ical_write(const why_node* root, why_buffer* out);

#endif
