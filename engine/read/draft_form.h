// SPDX-License-Identifier: GPL-3.0-or-later
/// Reading the numbers of a text by the forms and signs of rules/abstracts.xml.
#ifndef WHY_READ_DRAFT_FORM_H
#define WHY_READ_DRAFT_FORM_H

#include "abstracts.h"
#include "draft_number.h"

/// One number of a form, under the name of its group.
typedef struct {
  const char* name;
  why_draft_number* number;
} why_draft_role;

/// A form that was met.
typedef struct {
  const why_form* form;
  size_t sentence;
  size_t start; ///< In the shape of the sentence.
  size_t end;
  WHY_LIST(why_draft_role) roles; ///< In the order of the text.
  const char* unit;               ///< "" where the form has no such group, as below.
  const char* op;                 ///< Before a p.
  const char* label;              ///< Of an arm: its short name
  const char* words;              ///< and what it did.
} why_draft_found;

typedef WHY_LIST(why_draft_found) why_draft_found_list;

/// Try all forms on all sentences; every number that one takes is marked in the shapes.
why_draft_found_list why_draft_apply(const why_abstracts* abstracts, why_draft_lexed* lexed,
                                     why_arena* arena);

/// The number under that name; NULL: none.
why_draft_number* why_draft_role_of(const why_draft_found* found, const char* name);

/// Whether the sign that `tells` something `is` met in `text`.
bool why_draft_tells(const why_abstracts* abstracts, const char* tells, const char* is,
                     const char* text, why_arena* arena);

/// The only thing that is told in `text`, "" when nothing is, NULL when several are.
const char* why_draft_told(const why_abstracts* abstracts, const char* tells, const char* text,
                           why_arena* arena);

#endif
