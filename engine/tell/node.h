// SPDX-License-Identifier: GPL-3.0-or-later
/// The answer as a tree that every format walks. A node has a name and a value for programs, and a
/// role and words for people; either half may be missing. Formats know roles, not questions.
#ifndef WHY_TELL_NODE_H
#define WHY_TELL_NODE_H

#include "picture.h"

#include <stdbool.h>

/// The name of the text node under the root that holds a file, for the format "xml".
#define WHY_DOCUMENT "document"

/// What a program sees.
typedef enum {
  WHY_NODE_RECORD, ///< Named children.
  WHY_NODE_LIST,   ///< Children in order.
  WHY_NODE_TEXT,
  WHY_NODE_NUMBER,
  WHY_NODE_ABSENT, ///< Known to be missing (JSON null).
  WHY_NODE_WORDS   ///< For people only.
} why_node_kind;

/// What people see.
typedef enum {
  WHY_ROLE_NONE,      ///< Nothing of its own; children may still be seen.
  WHY_ROLE_TITLE,     ///< What the answer is about.
  WHY_ROLE_HEADING,   ///< Opens a part.
  WHY_ROLE_ENTRY,     ///< A numbered thing in a list, such as a pick.
  WHY_ROLE_POINT,     ///< A reason or remark under the thing before it.
  WHY_ROLE_CAUTION,   ///< A point that must not be overlooked.
  WHY_ROLE_STEP,      ///< A step of a chain; its children are what it rests on.
  WHY_ROLE_PARAGRAPH, ///< A sentence that stands alone.
  WHY_ROLE_GROUP,     ///< Points that belong together; `words` name them where there is room.
  WHY_ROLE_MENTION,   ///< Of something that stands further down, at the anchor that `link` names.
  WHY_ROLE_TABLE,     ///< Its children are columns and rows.
  WHY_ROLE_COLUMNS,   ///< The heads of a table, separated by tabs in `words`.
  WHY_ROLE_ROW,       ///< A row of columns, separated by tabs in `words`.
  WHY_ROLE_PICTURE    ///< Something to look at; `words` stand below it.
} why_role;

/// A picture that is drawn when a format shows it, so that others need not wait for it.
typedef struct {
  void (*draw)(const void* subject, why_picture* picture);
  const void* subject;
} why_drawing;

typedef struct why_node {
  why_node_kind kind;
  why_role role;
  const char* name; ///< NULL inside lists and for words.
  const char* text; ///< Value of a TEXT node.
  double number;    ///< Value of a NUMBER node.
  const char* words;
  const char* mark;   ///< What is said more quietly behind the words (an origin, a grade), or NULL.
  const char* link;   ///< Where it leads: an address, or "#" and an anchor; or NULL.
  const char* anchor; ///< Under which it can be found (an entry: its id, which may come twice);
                      ///< NULL: nobody looks for it.
  const why_drawing* drawing; ///< Of a picture.
  const char* sketch; ///< Of a row: a line of a drawing in characters before its words, for formats
                      ///< without pictures; NULL: none.
  const char* date;   ///< Of an appointment every week, as 2026-01-05; NULL: it is none.
  int weeks;          ///< So often.
  bool sheet; ///< A list of records with the same names and plain values: the answer as a table.
  struct why_node* first;
  struct why_node* last;
  struct why_node* next;
} why_node;

/// Make a node as the last child of `parent` (NULL: a root).
why_node* why_node_add(why_arena* arena, why_node* parent, why_node_kind kind, const char* name);

/// The usual children. `text` NULL makes an absent value; texts are not copied.
why_node* why_node_text(why_arena* arena, why_node* parent, const char* name, const char* text);
why_node* why_node_number(why_arena* arena, why_node* parent, const char* name, double number);

/// Something for people only.
why_node* why_node_words(why_arena* arena, why_node* parent, why_role role, const char* words);

/// A picture, drawn by `draw` from `subject` when it is shown.
why_node* why_node_picture(why_arena* arena, why_node* parent,
                           void (*draw)(const void* subject, why_picture* picture),
                           const void* subject);

/// Draw it, in `arena`. A picture of no width has nothing to show.
const why_picture* why_node_draw(const why_node* node, why_arena* arena);

/// One format: called on the way down and on the way up, with the depth of the node.
typedef struct {
  void (*enter)(void* state, const why_node* node, int depth);
  void (*leave)(void* state, const why_node* node, int depth);
} why_walk;

void why_node_walk(const why_node* node, const why_walk* walk, void* state, int depth);

#endif
