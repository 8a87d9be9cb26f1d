// SPDX-License-Identifier: GPL-3.0-or-later
// The format "csv": the one table of an answer, by RFC 4180: a line of names, then a line a record,
// with a point in decimals whatever the locale. Lists inside a record are joined by blanks.
#include "format.h"

#include <math.h>
#include <string.h>

static void add_text(why_buffer* out, const char* text) {
  if (!strpbrk(text, ",\"\r\n")) {
    why_buffer_add(out, text);
    return;
  }
  why_buffer_add(out, "\"");
  for (const char* each = text; *each; each++)
    why_buffer_add_bytes(out, *each == '"' ? "\"\"" : each, *each == '"' ? 2 : 1);
  why_buffer_add(out, "\"");
}

static const char* joined(const why_node* list, why_arena* arena) {
  why_buffer text = {.arena = arena};
  for (const why_node* each = list->first; each; each = each->next)
    if (each->kind == WHY_NODE_TEXT)
      why_buffer_print(&text, "%s%s", text.length ? " " : "", each->text);
  return why_buffer_text(&text);
}

static void add_value(why_buffer* out, const why_node* node) {
  if (node->kind == WHY_NODE_TEXT)
    add_text(out, node->text);
  else if (node->kind == WHY_NODE_LIST)
    add_text(out, joined(node, out->arena));
  else if (node->kind == WHY_NODE_NUMBER && isfinite(node->number))
    why_buffer_print(out, "%.12g", node->number);
}

static void add_line(why_buffer* out, const why_node* record, bool names) {
  bool first = true;
  for (const why_node* each = record->first; each; each = each->next) {
    if (!each->name)
      continue;
    if (!first)
      why_buffer_add(out, ",");
    first = false;
    if (names)
      add_text(out, each->name);
    else
      add_value(out, each);
  }
  why_buffer_add(out, "\r\n");
}

static const why_node* find_sheet(const why_node* node) {
  if (node->sheet)
    return node;
  for (const why_node* each = node->first; each; each = each->next) {
    const why_node* found = find_sheet(each);
    if (found)
      return found;
  }
  return NULL;
}

bool why_csv_write(const why_node* root, why_buffer* out) {
  const why_node* sheet = find_sheet(root);
  if (!sheet || !sheet->first)
    return false;
  add_line(out, sheet->first, true);
  for (const why_node* each = sheet->first; each; each = each->next)
    add_line(out, each, false);
  return true;
}
