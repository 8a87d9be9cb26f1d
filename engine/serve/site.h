// SPDX-License-Identifier: GPL-3.0-or-later
/// What all requests share: the knowledge base and the names to choose from. Made once, never
/// changed, so that threads need no lock.
#ifndef WHY_SERVE_SITE_H
#define WHY_SERVE_SITE_H

#include "bytes.h"
#include "whylift/whylift.h"

#include <jansson.h>

/// Lists of names, each row {"id", "name", "more"} as `list KIND` gives them.
typedef struct {
  json_t* places;
  json_t* equipment;    ///< "more" is the kind of the item.
  json_t* restrictions; ///< "more" says what it is: a complaint, a demand ...
  json_t* groups;
  json_t* actions;
  json_t* heads;
  json_t* exercises; ///< "more" is the movement pattern.
} why_choices;

typedef struct {
  const why_knowledge* knowledge;
  why_choices choices;
  why_bytes goals;     ///< Options of a list of all goals, as HTML.
  why_bytes exercises; ///< The same of exercises.
  why_bytes parts;     ///< The same of studies and rules, which can be left out.
  const char* folder;  ///< Of the knowledge base, to read it again without some part.
  bool local;          ///< Reached under a name of this machine only; else any name will do.
} why_site;

/// Get ready for requests; false without memory. Clear it in either case.
bool why_site_init(why_site* site, const why_knowledge* knowledge, const char* folder);
void why_site_clear(why_site* site);

/// A member of a row that is a text; "" when it is none.
const char* why_listed_text(const json_t* row, const char* name);

/// The answer of a task to pairs of names and texts (the list ends with NULL), read from JSON; NULL
/// when there is none.
json_t* why_site_answer(const why_knowledge* knowledge, const char* task,
                        const char* const* names_and_texts);

#endif
