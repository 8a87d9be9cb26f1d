// SPDX-License-Identifier: GPL-3.0-or-later
// For what two exercises are compared when nobody says it: the muscle group that both of them train
// most nearly as a whole.
#include "question.h"
#include "rows.h"

static bool is_trained(const why_rows* rows, why_symbol head) {
  for (size_t i = 0; i < rows->facts.count; i++)
    if (why_rows_symbol(rows, i, "head") == head)
      return true;
  return false;
}

static size_t count_trained(const why_group* group, const why_rows* a, const why_rows* b) {
  size_t count = 0;
  for (size_t i = 0; i < group->heads.count; i++)
    count += is_trained(a, group->heads.at[i]) && is_trained(b, group->heads.at[i]);
  return count;
}

/// The group with most heads that both train, each that they do not train taken off; of equal ones
/// the larger. NULL when none has more than it lacks.
static const why_group* find_group(const why_anatomy* anatomy, const why_rows* a,
                                   const why_rows* b) {
  const why_group* best = NULL;
  size_t most = 0, trained = 0;
  for (size_t i = 0; i < anatomy->groups.count; i++) {
    const why_group* each = &anatomy->groups.at[i];
    size_t both = count_trained(each, a, b);
    size_t worth = 2 * both > each->heads.count ? 2 * both - each->heads.count : 0;
    if (worth < most || worth == 0 || (worth == most && both <= trained))
      continue;
    best = each;
    most = worth;
    trained = both;
  }
  return best;
}

static why_symbol find_head(const why_rows* a, const why_rows* b) {
  for (size_t i = 0; i < a->facts.count; i++)
    if (is_trained(b, why_rows_symbol(a, i, "head")))
      return why_rows_symbol(a, i, "head");
  return 0;
}

static const char* name_of(const why_question* question, why_symbol exercise) {
  return why_ground_name(question->ground, question->arena, "exercise",
                         why_symbols_text(question->ground->symbols, exercise));
}

why_status why_question_common(why_question* question) {
  if (question->goal.id || !question->exercise || !question->other ||
      question->exercise == question->other)
    return WHY_OK;
  const why_ground* ground = question->ground;
  why_overlay* overlay = why_overlay_new(ground->base, question->arena, NULL);
  why_overlay_open(overlay, question->problems);
  why_rows a =
      why_rows_about(ground->program, overlay, "effective", "exercise", question->exercise);
  why_rows b = why_rows_about(ground->program, overlay, "effective", "exercise", question->other);
  const why_group* group = find_group(&ground->tables->anatomy, &a, &b);
  why_symbol head = group ? 0 : find_head(&a, &b);
  question->goal =
      (why_thing){.kind = group ? WHY_MEANS_GROUP : WHY_MEANS_HEAD, .id = group ? group->id : head};
  if (question->goal.id)
    return WHY_OK;
  why_problems_add(question->problems, WHY_ERROR, "compare", (why_place){0},
                   "%s and %s train no muscle in common", name_of(question, question->exercise),
                   name_of(question, question->other));
  why_problems_hint(question->problems, "say for which muscle or action they are to be compared");
  return WHY_QUESTION;
}
