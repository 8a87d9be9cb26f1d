// SPDX-License-Identifier: GPL-3.0-or-later
/// The kinds of file a knowledge base is made of: where they lie, which schema describes them, and
/// which reader turns them into rows.
#ifndef WHY_READ_KIND_H
#define WHY_READ_KIND_H

#include "tables.h"
#include "xml.h"

typedef struct {
  const char* path;   ///< A file, or a folder (ending in '/') whose .xml files are all of the kind.
  const char* except; ///< A file name in that folder that is of another kind, or NULL.
  const char* schema; ///< Path of the schema, relative to the knowledge base.
  /// Turn the root element into rows of `tables`.
  void (*read)(why_reader* reader, const xmlNode* root, why_tables* tables);
} why_kind;

/// Kind number `index`, NULL behind the last.
const why_kind* why_kinds_at(size_t index);

#endif
