// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as JSON (RFC 8259), indented for people. What is only for people is left out. A text
// that is no UTF-8 cannot be written, and ends the writing as exhausted memory does.
#include "format.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/// One writing, and how deep it is.
typedef struct {
  why_buffer* out;
  size_t depth;
} writing;

static void add_value(writing* at, const why_node* node);

/// A character that cannot stand for itself.
static void add_escape(writing* at, unsigned char character) {
  static const char SHORT[][2] = {{'"', '"'},  {'\\', '\\'}, {'\b', 'b'}, {'\f', 'f'},
                                  {'\n', 'n'}, {'\r', 'r'},  {'\t', 't'}};
  for (size_t i = 0; i < sizeof SHORT / sizeof *SHORT; i++)
    if ((unsigned char)SHORT[i][0] == character) {
      why_buffer_add_bytes(at->out, (const char[]){'\\', SHORT[i][1]}, 2);
      return;
    }
  why_buffer_print(at->out, "\\u%04X", character);
}

static void add_text(writing* at, const char* text) {
  bool ascii = true;
  const char* plain = text; // from here on as it is
  why_buffer_add_bytes(at->out, "\"", 1);
  for (const char* each = text; *each; each++) {
    unsigned char character = (unsigned char)*each;
    ascii = ascii && character < 0x80;
    if (character >= 0x20 && character != '"' && character != '\\')
      continue;
    why_buffer_add_bytes(at->out, plain, (size_t)(each - plain));
    add_escape(at, character);
    plain = each + 1;
  }
  if (!ascii && !why_text_is_utf8(text))
    why_arena_exhaust(at->out->arena);
  why_buffer_add(at->out, plain);
  why_buffer_add_bytes(at->out, "\"", 1);
}

/// A real of up to twelve digits, which can be seen to be one: "0.5", "3.0", "1e-7".
static void add_real(writing* at, double number) {
  char text[32];
  snprintf(text, sizeof text, "%.12g", number);
  char* exponent = strchr(text, 'e');
  if (!exponent) {
    why_buffer_add(at->out, text);
    why_buffer_add(at->out, strchr(text, '.') ? "" : ".0");
    return;
  }
  const char* digits = exponent + 1;
  const char* sign = *digits == '-' ? "-" : "";
  digits += strspn(digits, "+-0");
  why_buffer_print(at->out, "%.*se%s%s", (int)(exponent - text), text, sign, digits);
}

/// Whole numbers as integers; what is not finite is null.
static void add_number(writing* at, double number) {
  if (!isfinite(number))
    why_buffer_add(at->out, "null");
  else if (number == floor(number) && fabs(number) < 9e15)
    why_buffer_print(at->out, "%lld", (long long)number);
  else
    add_real(at, number);
}

static void begin_line(writing* at) {
  static const char BLANKS[] = "\n                                ";
  size_t wanted = 1 + 2 * at->depth;
  size_t length = wanted < sizeof BLANKS ? wanted : sizeof BLANKS - 1;
  why_buffer_add_bytes(at->out, BLANKS, length);
  for (; length < wanted; length++)
    why_buffer_add_bytes(at->out, " ", 1);
}

/// Children between brackets: those of a record by name.
static void add_children(writing* at, const why_node* node, const char* brackets) {
  bool named = node->kind == WHY_NODE_RECORD;
  bool any = false;
  why_buffer_add_bytes(at->out, brackets, 1);
  at->depth++;
  for (const why_node* each = node->first; each; each = each->next) {
    if (named ? !each->name : each->kind == WHY_NODE_WORDS)
      continue;
    if (any)
      why_buffer_add_bytes(at->out, ",", 1);
    any = true;
    begin_line(at);
    if (named) {
      add_text(at, each->name);
      why_buffer_add_bytes(at->out, ": ", 2);
    }
    add_value(at, each);
  }
  at->depth--;
  if (any)
    begin_line(at);
  why_buffer_add_bytes(at->out, brackets + 1, 1);
}

static void add_value(writing* at, const why_node* node) {
  switch (node->kind) {
  case WHY_NODE_RECORD:
    add_children(at, node, "{}");
    break;
  case WHY_NODE_LIST:
    add_children(at, node, "[]");
    break;
  case WHY_NODE_TEXT:
    add_text(at, node->text);
    break;
  case WHY_NODE_NUMBER:
    add_number(at, node->number);
    break;
  case WHY_NODE_ABSENT:
  case WHY_NODE_WORDS:
    why_buffer_add(at->out, "null");
    break;
  }
}

bool why_json_write(const why_node* root, why_buffer* out) {
  writing at = {.out = out};
  add_value(&at, root);
  why_buffer_add(out, "\n");
  return true;
}
