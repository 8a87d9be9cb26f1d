// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as plain text for a terminal: indented, wrapped at word boundaries, no colour needed to
// read it.
#include "format.h"

#include <string.h>

enum { WIDTH = 92, INDENT = 2, COLUMNS = 12 };

typedef struct {
  why_buffer* out;
  int widths[COLUMNS]; ///< Of the table that we are in.
  bool in_table;
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

/// Words with their mark behind them, as the role asks.
static const char* words_of(const state* at, const why_node* node) {
  if (!node->mark)
    return node->words;
  const char* form = node->role == WHY_ROLE_TITLE   ? "%s; %s"
                     : node->role == WHY_ROLE_ENTRY ? "%s (%s)"
                     : node->role == WHY_ROLE_POINT ? "%s, %s"
                                                    : "%s [%s]";
  why_buffer text = {.arena = at->out->arena};
  why_buffer_print(&text, form, node->words, node->mark);
  return why_buffer_text(&text);
}

static void measure_table(state* at, const why_node* table) {
  memset(at->widths, 0, sizeof at->widths);
  for (const why_node* row = table->first; row; row = row->next) {
    const char* rest = row->words ? row->words : "";
    for (int i = 0; i < COLUMNS && *rest; i++) {
      size_t length = strcspn(rest, "\t");
      int columns = columns_of(rest, length);
      at->widths[i] = columns > at->widths[i] ? columns : at->widths[i];
      rest += length + (rest[length] == '\t');
    }
  }
}

/// In a table every cell but the last is filled up to the width of its column.
static void add_row(const state* at, const why_node* node) {
  const char* words = node->words;
  if (!at->in_table) {
    why_buffer_add(at->out, words);
    why_buffer_add(at->out, "\n");
    return;
  }
  add_blanks(at->out, INDENT);
  if (node->sketch)
    why_buffer_print(at->out, "%s  ", node->sketch);
  for (int i = 0; *words; i++) {
    size_t length = strcspn(words, "\t");
    why_buffer_add_bytes(at->out, words, length);
    if (words[length] && i < COLUMNS)
      add_blanks(at->out, at->widths[i] + INDENT - columns_of(words, length));
    words += length + (words[length] == '\t');
  }
  why_buffer_add(at->out, "\n");
}

static void enter(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  switch (node->words ? node->role : WHY_ROLE_NONE) {
  case WHY_ROLE_NONE:
  case WHY_ROLE_PICTURE:
  case WHY_ROLE_GROUP:
  case WHY_ROLE_MENTION:
    break;
  case WHY_ROLE_TITLE:
    add_wrapped(at->out, 0, "", words_of(at, node));
    break;
  case WHY_ROLE_HEADING:
    why_buffer_add(at->out, "\n");
    add_wrapped(at->out, 0, "", words_of(at, node));
    at->entries = 0;
    at->in_entry = false;
    break;
  case WHY_ROLE_ENTRY:
    add_entry(at, words_of(at, node));
    at->in_entry = true;
    break;
  case WHY_ROLE_POINT:
  case WHY_ROLE_CAUTION:
    add_wrapped(at->out, at->in_entry ? 2 * INDENT : INDENT, "- ", words_of(at, node));
    break;
  case WHY_ROLE_STEP:
    add_wrapped(at->out, INDENT * (1 + at->steps), at->steps ? "because " : "", words_of(at, node));
    at->steps++;
    break;
  case WHY_ROLE_PARAGRAPH:
    why_buffer_add(at->out, "\n");
    add_wrapped(at->out, 0, "", words_of(at, node));
    break;
  case WHY_ROLE_TABLE:
    measure_table(at, node);
    at->in_table = true;
    break;
  case WHY_ROLE_COLUMNS:
    why_buffer_add(at->out, "\n");
    add_row(at, node);
    break;
  case WHY_ROLE_ROW:
    add_row(at, node);
    break;
  }
}

static void leave(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  if (node->words && node->role == WHY_ROLE_STEP)
    at->steps--;
  if (node->role == WHY_ROLE_TABLE)
    at->in_table = false;
}

bool why_text_write(const why_node* root, why_buffer* out) {
  static const why_walk WALK = {enter, leave};
  state at = {.out = out};
  why_node_walk(root, &WALK, &at, 0);
  return true;
}
