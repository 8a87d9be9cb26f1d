// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of rules/exercises/ as they stand there.
#include "reason.h"

#include <math.h>

static void give_needs(why_giver* giver, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->needs.count; i++) {
    const why_needs* needs = &exercise->needs.at[i];
    WHY_GIVE(giver, "option", needs->place, WHY_SYM(exercise->id), WHY_NUM((double)i + 1));
    for (size_t j = 0; j < needs->items.count; j++)
      WHY_GIVE(giver, "option-needs", needs->place, WHY_SYM(exercise->id), WHY_NUM((double)i + 1),
               WHY_SYM(needs->items.at[j]));
  }
}

/// The usual load of free weights, for the body mass that the catalogue is written for.
static void give_load(why_giver* giver, const why_exercise* exercise) {
  static const double BODY_KG = 75;
  double masses = 0;
  for (size_t i = 0; i < exercise->resistances.count; i++) {
    const why_resistance* each = &exercise->resistances.at[i];
    if (each->kind == why_symbols_find(giver->symbols, "mass") && isfinite(each->body_masses))
      masses += each->body_masses;
  }
  if (masses > 0)
    WHY_GIVE(giver, "usual-load", exercise->place, WHY_SYM(exercise->id),
             WHY_NUM(masses * BODY_KG));
}

/// Either of two exercises may name the other: both ways are one fact.
static void give_forms(why_giver* giver, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->easier.count; i++)
    WHY_GIVE(giver, "easier", exercise->place, WHY_SYM(exercise->easier.at[i]),
             WHY_SYM(exercise->id));
  for (size_t i = 0; i < exercise->harder.count; i++)
    WHY_GIVE(giver, "easier", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->harder.at[i]));
}

static void give_plain(why_giver* giver, const why_exercise* exercise) {
  WHY_GIVE(giver, "exercise", exercise->place, WHY_SYM(exercise->id), WHY_SYM(exercise->pattern));
  WHY_GIVE(giver, "quality", exercise->place, WHY_SYM(exercise->id), WHY_SYM(exercise->skill),
           WHY_SYM(exercise->stability), WHY_SYM(exercise->axial_load),
           WHY_SYM(exercise->loading_steps));
  if (exercise->movement)
    WHY_GIVE(giver, "movement", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->movement));
  if (exercise->held)
    WHY_GIVE(giver, "held", exercise->place, WHY_SYM(exercise->id));
  for (size_t i = 0; i < exercise->moves.count; i++)
    WHY_GIVE(giver, "moves", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->moves.at[i]));
  for (size_t i = 0; i < exercise->restricted.count; i++)
    WHY_GIVE(giver, "asks-of-person", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->restricted.at[i]));
  give_needs(giver, exercise);
  give_forms(giver, exercise);
  give_load(giver, exercise);
}

void why_given_exercises(why_giver* giver) {
  const why_exercise_table* table = &giver->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    give_plain(giver, &table->rows.at[i]);
}
