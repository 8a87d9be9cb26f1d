// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as JSON, built and escaped by jansson. What is only for people is left out. A value that
// jansson could not make, and so would leave out, ends the writing as exhausted memory does.
#include "format.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>

/// One writing; `failed` once something could not be made.
typedef struct {
  bool failed;
} state;

static json_t* value_of(state* at, const why_node* node);

/// Whole numbers as integers, others with their shortest exact form; what is not finite is null.
static json_t* number_of(double number) {
  if (!isfinite(number))
    return json_null();
  if (number == floor(number) && fabs(number) < 9e15)
    return json_integer((json_int_t)number);
  return json_real(number);
}

static json_t* list_of(state* at, const why_node* node) {
  json_t* list = json_array();
  for (const why_node* each = node->first; each; each = each->next)
    if (each->kind != WHY_NODE_WORDS && json_array_append_new(list, value_of(at, each)) != 0)
      at->failed = true;
  return list;
}

static json_t* record_of(state* at, const why_node* node) {
  json_t* record = json_object();
  for (const why_node* each = node->first; each; each = each->next)
    if (each->name && json_object_set_new(record, each->name, value_of(at, each)) != 0)
      at->failed = true;
  return record;
}

static json_t* value_of(state* at, const why_node* node) {
  switch (node->kind) {
  case WHY_NODE_RECORD:
    return record_of(at, node);
  case WHY_NODE_LIST:
    return list_of(at, node);
  case WHY_NODE_TEXT:
    return json_string(node->text);
  case WHY_NODE_NUMBER:
    return number_of(node->number);
  case WHY_NODE_ABSENT:
  case WHY_NODE_WORDS:
    break;
  }
  return json_null();
}

bool why_json_write(const why_node* root, why_buffer* out) {
  state at = {0};
  json_t* value = value_of(&at, root);
  char* text = at.failed ? NULL : json_dumps(value, JSON_INDENT(2) | JSON_REAL_PRECISION(12));
  json_decref(value);
  if (!text)
    why_arena_exhaust(out->arena);
  why_arena_defer(out->arena, free, text); // the buffer may find no room, and leave
  why_buffer_add(out, text);
  why_buffer_add(out, "\n");
  return true;
}
