// SPDX-License-Identifier: GPL-3.0-or-later
// Building and walking the tree.
#include "node.h"

why_node* why_node_add(why_arena* arena, why_node* parent, why_node_kind kind, const char* name) {
  why_node* made = WHY_NEW(arena, why_node);
  made->kind = kind;
  made->name = name;
  if (!parent)
    return made;
  if (parent->last)
    parent->last->next = made;
  else
    parent->first = made;
  parent->last = made;
  return made;
}

why_node* why_node_text(why_arena* arena, why_node* parent, const char* name, const char* text) {
  why_node* made = why_node_add(arena, parent, text ? WHY_NODE_TEXT : WHY_NODE_ABSENT, name);
  made->text = text;
  return made;
}

why_node* why_node_number(why_arena* arena, why_node* parent, const char* name, double number) {
  why_node* made = why_node_add(arena, parent, WHY_NODE_NUMBER, name);
  made->number = number;
  return made;
}

why_node* why_node_words(why_arena* arena, why_node* parent, why_role role, const char* words) {
  why_node* made = why_node_add(arena, parent, WHY_NODE_WORDS, NULL);
  made->role = role;
  made->words = words;
  return made;
}

why_node* why_node_picture(why_arena* arena, why_node* parent,
                           void (*draw)(const void* subject, why_picture* picture),
                           const void* subject) {
  why_drawing* drawing = WHY_NEW(arena, why_drawing);
  *drawing = (why_drawing){draw, subject};
  why_node* made = why_node_words(arena, parent, WHY_ROLE_PICTURE, "");
  made->drawing = drawing;
  return made;
}

const why_picture* why_node_draw(const why_node* node, why_arena* arena) {
  why_picture* picture = WHY_NEW(arena, why_picture);
  *picture = (why_picture){.arena = arena, .title = "", .description = ""};
  node->drawing->draw(node->drawing->subject, picture);
  return picture;
}

void why_node_walk(const why_node* node, const why_walk* walk, void* state, int depth) {
  walk->enter(state, node, depth);
  for (const why_node* each = node->first; each; each = each->next)
    why_node_walk(each, walk, state, depth + 1);
  walk->leave(state, node, depth);
}
