// SPDX-License-Identifier: GPL-3.0-or-later
/// A question put together from names and texts, wherever they come from: a line of JSON, an
/// address, a form. The names are those under which an answer says back what it understood.
#ifndef WHY_SERVE_ASKING_H
#define WHY_SERVE_ASKING_H

#include "whylift/whylift.h"

#include <jansson.h>

enum {
  WHY_TEXT_LIMIT = 4096, ///< Bytes of one text.
  WHY_SAID_LIMIT = 300   ///< Texts of one question.
};

/// What can be asked for. The last row has no name.
typedef struct {
  const char* name;
  why_task task;
} why_asking_task;

typedef struct {
  why_query* query;
  const why_asking_task* task; ///< NULL until one is named.
  json_t* problems;            ///< Of the words around the question; those of `query` come after.
  why_answer* answer;          ///< Lives in `query`.
  why_status status;           ///< The worst so far.
  int said;
} why_asking;

/// Begin; `status` is WHY_MACHINE without memory. Give it back with why_asking_clear.
void why_asking_init(why_asking* asking, const why_knowledge* knowledge);
void why_asking_clear(why_asking* asking);

const why_asking_task* why_asking_tasks(void);

/// Name the task.
void why_asking_task_set(why_asking* asking, const char* name);

/// Say `text` under `name`; a name that is not known becomes a problem.
void why_asking_say(why_asking* asking, const char* name, const char* text);

/// Whether something can be said under `name`, and whether more than once.
bool why_asking_knows(const char* name);
bool why_asking_many(const char* name);

/// Something is wrong with how it was asked. `subject` (or NULL) is quoted, cut to a short length.
void why_asking_refuse(why_asking* asking, const char* check, const char* sentence,
                       const char* subject, const char* hint);

/// Answer. Returns `status`; on WHY_OK and WHY_NO_PICK `answer` is set.
why_status why_asking_run(why_asking* asking);

/// Answer, as new JSON; NULL when there is no answer or no memory.
json_t* why_asking_json(why_asking* asking);

/// All problems, as a new list of {"severity", "check", "text", "hint"}; NULL without memory.
json_t* why_asking_problems(const why_asking* asking);

#endif
