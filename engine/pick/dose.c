// SPDX-License-Identifier: GPL-3.0-or-later
#include "dose.h"

#include "rows.h"
#include "sentence.h"

#include <math.h>
#include <string.h>

static const char* const NAMES[] = {"sets", "repetitions", "reserve", "rest"};

const char* why_aspect_name(why_aspect aspect) {
  return NAMES[aspect];
}

why_dose why_dose_of(const why_picked* answer, why_symbol exercise) {
  const why_ground* ground = answer->question->ground;
  why_dose made = {.exercise = exercise};
  for (int i = 0; i < WHY_ASPECTS; i++)
    made.at[i] = (why_from_to){NAN, NAN};
  why_rows rows = why_rows_about(ground->program, answer->overlay, "dose", "exercise", exercise);
  for (size_t i = 0; i < rows.facts.count; i++) {
    const char* aspect = why_symbols_text(ground->symbols, why_rows_symbol(&rows, i, "aspect"));
    for (int k = 0; k < WHY_ASPECTS; k++) {
      if (strcmp(aspect, NAMES[k]) != 0)
        continue;
      made.at[k] =
          (why_from_to){why_rows_number(&rows, i, "low"), why_rows_number(&rows, i, "high")};
      made.measurement[k] = why_rows_symbol(&rows, i, "measurement");
    }
  }
  return made;
}

void why_dose_general(const why_picked* answer, why_reasons* sentences,
                      why_symbol_list* measurements) {
  const why_ground* ground = answer->question->ground;
  why_sentence_collect_all(answer, "dose", sentences);
  why_rows rows = why_rows_find(ground->program, answer->overlay, "general-dose");
  for (size_t i = 0; i < rows.facts.count; i++)
    *WHY_LIST_ADD(answer->arena, *measurements) = why_rows_symbol(&rows, i, "measurement");
}
