// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as plain text for a terminal: indented, wrapped at word boundaries, no colour needed to
// read it.
#include "format.h"

#include <string.h>

enum { WIDTH = 92, INDENT = 2 };

typedef struct {
  why_buffer* out;
  int entries;   ///< Number of the last entry under the current heading.
  int steps;     ///< How deep we are in a chain of steps.
  bool in_entry; ///< Points belong to an entry.
} state;

/// UTF-8 continuation bytes take no column.
static int columns_of(const char* text, size_t length) {
  int columns = 0;
  for (size_t i = 0; i < length; i++)
    columns += ((unsigned char)text[i] & 0xC0) != 0x80;
  return columns;
}

static void add_blanks(why_buffer* out, int count) {
  for (int i = 0; i < count; i++)
    why_buffer_add(out, " ");
}

/// `lead` stands before the first line; later lines are indented to where its text begins.
static void add_wrapped(why_buffer* out, int indent, const char* lead, const char* text) {
  int hang = indent + columns_of(lead, strlen(lead));
  int column = hang;
  add_blanks(out, indent);
  why_buffer_add(out, lead);
  for (const char* rest = text; *rest;) {
    size_t length = strcspn(rest, " ");
    int columns = columns_of(rest, length);
    if (column > hang && column + 1 + columns > WIDTH) {
      why_buffer_add(out, "\n");
      add_blanks(out, hang);
      column = hang;
    } else if (column > hang) {
      why_buffer_add(out, " ");
      column++;
    }
    why_buffer_add_bytes(out, rest, length);
    column += columns;
    rest += length;
    rest += strspn(rest, " ");
  }
  why_buffer_add(out, "\n");
}

static void add_entry(state* at, const char* words) {
  why_buffer lead = {.arena = at->out->arena};
  why_buffer_print(&lead, "%2d. ", ++at->entries);
  add_wrapped(at->out, 0, why_buffer_text(&lead), words);
}

static void enter(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  switch (node->words ? node->role : WHY_ROLE_NONE) {
  case WHY_ROLE_NONE:
  case WHY_ROLE_PICTURE:
    break;
  case WHY_ROLE_TITLE:
    add_wrapped(at->out, 0, "", node->words);
    break;
  case WHY_ROLE_HEADING:
    why_buffer_add(at->out, "\n");
    add_wrapped(at->out, 0, "", node->words);
    at->entries = 0;
    at->in_entry = false;
    break;
  case WHY_ROLE_ENTRY:
    add_entry(at, node->words);
    at->in_entry = true;
    break;
  case WHY_ROLE_POINT:
    add_wrapped(at->out, at->in_entry ? 2 * INDENT : INDENT, "- ", node->words);
    break;
  case WHY_ROLE_STEP:
    add_wrapped(at->out, INDENT * (1 + at->steps), at->steps ? "because " : "", node->words);
    at->steps++;
    break;
  case WHY_ROLE_PARAGRAPH:
    why_buffer_add(at->out, "\n");
    add_wrapped(at->out, 0, "", node->words);
    break;
  case WHY_ROLE_ROW:
    why_buffer_add(at->out, node->words);
    why_buffer_add(at->out, "\n");
    break;
  }
}

static void leave(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  if (node->words && node->role == WHY_ROLE_STEP)
    at->steps--;
}

bool why_text_write(const why_node* root, why_buffer* out) {
  static const why_walk WALK = {enter, leave};
  state at = {.out = out};
  why_node_walk(root, &WALK, &at, 0);
  return true;
}
