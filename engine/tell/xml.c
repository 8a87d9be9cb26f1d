// SPDX-License-Identifier: GPL-3.0-or-later
// The format "xml": the file that an answer has drafted.
#include "format.h"

#include <string.h>

bool why_xml_write(const why_node* root, why_buffer* out) {
  for (const why_node* each = root->first; each; each = each->next)
    if (each->kind == WHY_NODE_TEXT && each->name && strcmp(each->name, WHY_DOCUMENT) == 0) {
      why_buffer_add(out, each->text);
      return true;
    }
  return false;
}
