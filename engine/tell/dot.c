// SPDX-License-Identifier: GPL-3.0-or-later
// The format "dot": a chain of reasons in the Graphviz language, one node a step, with edges from
// what is concluded to what it rests on.
#include "format.h"
#include "markup.h"

#include <string.h>

static const double TYPE = 11;
static const double WIDTH = 230; ///< At which labels are broken.

typedef struct {
  why_buffer* out;
  size_t count;
  WHY_LIST(size_t) above; ///< Numbers of the steps that we are in.
  const char* title;
} state;

/// Inside a quoted string quotation marks and backslashes are escaped.
static void add_quoted(why_buffer* out, const char* text) {
  while (*text) {
    bool sound = false;
    size_t length = why_markup_character(text, &sound);
    if (sound && (*text == '"' || *text == '\\'))
      why_buffer_add(out, "\\");
    if (sound)
      why_buffer_add_bytes(out, text, length);
    else
      why_buffer_add(out, WHY_REPLACEMENT);
    text += length;
  }
}

static void add_lines(why_buffer* out, const char* words) {
  why_lines lines = why_words_wrap(out->arena, words, TYPE, WIDTH);
  for (size_t i = 0; i < lines.count; i++) {
    add_quoted(out, lines.at[i]);
    why_buffer_add(out, "\\l"); // ends a line that stands at the left
  }
}

static void open_graph(state* at) {
  if (at->count)
    return;
  why_buffer_add(at->out, "digraph reasons {\n  rankdir=LR;\n"
                          "  node [shape=box, fontname=\"sans-serif\", fontsize=11];\n"
                          "  labelloc=t;\n  label=\"");
  add_quoted(at->out, at->title ? at->title : "");
  why_buffer_add(at->out, "\";\n");
}

static void enter(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  if (node->role == WHY_ROLE_TITLE && !at->title)
    at->title = node->words;
  if (node->role != WHY_ROLE_STEP)
    return;
  open_graph(at);
  size_t number = ++at->count;
  why_buffer_print(at->out, "  n%zu [label=\"", number);
  add_lines(at->out, node->words);
  if (node->mark)
    add_lines(at->out, why_arena_print(at->out->arena, "[%s]", node->mark));
  why_buffer_add(at->out, "\"];\n");
  if (at->above.count)
    why_buffer_print(at->out, "  n%zu -> n%zu;\n", at->above.at[at->above.count - 1], number);
  *WHY_LIST_ADD(at->out->arena, at->above) = number;
}

static void leave(void* user, const why_node* node, int depth) {
  (void)depth;
  state* at = user;
  if (node->role == WHY_ROLE_STEP)
    at->above.count--;
}

bool why_dot_write(const why_node* root, why_buffer* out) {
  static const why_walk WALK = {enter, leave};
  state at = {.out = out};
  why_node_walk(root, &WALK, &at, 0);
  if (!at.count)
    return false;
  why_buffer_add(out, "}\n");
  return true;
}
