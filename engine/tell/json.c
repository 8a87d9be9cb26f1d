// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as JSON, built and escaped by jansson. What is only for people is left out.
#include "format.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>

static json_t* value_of(const why_node* node);

/// Whole numbers as integers, others with their shortest exact form; what is not finite is null.
static json_t* number_of(double number) {
  if (!isfinite(number))
    return json_null();
  if (number == floor(number) && fabs(number) < 9e15)
    return json_integer((json_int_t)number);
  return json_real(number);
}

static json_t* list_of(const why_node* node) {
  json_t* list = json_array();
  for (const why_node* each = node->first; each; each = each->next)
    if (each->kind != WHY_NODE_WORDS)
      json_array_append_new(list, value_of(each));
  return list;
}

static json_t* record_of(const why_node* node) {
  json_t* record = json_object();
  for (const why_node* each = node->first; each; each = each->next)
    if (each->name)
      json_object_set_new(record, each->name, value_of(each));
  return record;
}

static json_t* value_of(const why_node* node) {
  switch (node->kind) {
  case WHY_NODE_RECORD:
    return record_of(node);
  case WHY_NODE_LIST:
    return list_of(node);
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

void why_json_write(const why_node* root, why_buffer* out) {
  json_t* value = value_of(root);
  char* text = json_dumps(value, JSON_INDENT(2) | JSON_REAL_PRECISION(12));
  if (text) {
    why_buffer_add(out, text);
    why_buffer_add(out, "\n");
  }
  free(text);
  json_decref(value);
}
