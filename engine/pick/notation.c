// SPDX-License-Identifier: GPL-3.0-or-later
// The patterns stand in the rules; here they become regular expressions, and what they match
// becomes numbers.
#include "notation.h"

#include "rows.h"

#include <string.h>

static const struct {
  const char* name;
  why_writes meaning;
} MEANINGS[] = {
    {"remark", WHY_WRITES_REMARK},
    {"bullet", WHY_WRITES_BULLET},
    {"weekday", WHY_WRITES_WEEKDAY},
    {"day", WHY_WRITES_DAY},
    {"many", WHY_WRITES_MANY},
    {"warm-up", WHY_WRITES_WARM_UP},
    {"idle", WHY_WRITES_IDLE},
    {"reserve", WHY_WRITES_RESERVE},
    {"exertion", WHY_WRITES_EXERTION},
    {"sets-repetitions", WHY_WRITES_SETS_REPETITIONS},
    {"sets-repetitions-kilograms", WHY_WRITES_SETS_REPETITIONS_KILOGRAMS},
    {"sets-seconds", WHY_WRITES_SETS_SECONDS},
    {"sets", WHY_WRITES_SETS},
    {"repetitions", WHY_WRITES_REPETITIONS},
    {"list", WHY_WRITES_LIST},
    {"kilograms", WHY_WRITES_KILOGRAMS},
    {"pounds", WHY_WRITES_POUNDS},
    {"side", WHY_WRITES_SIDE},
};

static why_writes meaning_of(const char* name) {
  for (size_t i = 0; i < sizeof MEANINGS / sizeof *MEANINGS; i++)
    if (strcmp(MEANINGS[i].name, name) == 0)
      return MEANINGS[i].meaning;
  return WHY_WRITES_NOTHING;
}

static void read_shorthands(const why_question* question, why_overlay* overlay,
                            why_notation* notation) {
  const why_ground* ground = question->ground;
  why_rows rows = why_rows_find(ground->program, overlay, "shorthand");
  for (size_t i = 0; i < rows.facts.count; i++) {
    const char* word = why_symbols_text(ground->symbols, why_rows_symbol(&rows, i, "word"));
    why_symbol exercise = why_rows_symbol(&rows, i, "exercise");
    if (why_exercise_find(&ground->tables->exercises, exercise))
      *WHY_LIST_ADD(question->arena, notation->shorthands) =
          (why_shorthand){why_spell_key(question->arena, word, false), exercise};
  }
}

why_symbol why_notation_shorthand(const why_notation* notation, const char* text) {
  const char* key = why_spell_key(notation->arena, text, false);
  for (size_t i = 0; i < notation->shorthands.count; i++)
    if (strcmp(notation->shorthands.at[i].key, key) == 0)
      return notation->shorthands.at[i].exercise;
  return 0;
}

why_status why_notation_new(const why_question* question, why_notation* notation) {
  const why_ground* ground = question->ground;
  *notation = (why_notation){.arena = question->arena};
  why_overlay* overlay = why_overlay_new(ground->base, question->arena, NULL);
  why_overlay_open(overlay, question->problems);
  why_rows rows = why_rows_find(ground->program, overlay, "writes");
  for (size_t i = 0; i < rows.facts.count; i++) {
    const char* meaning = why_symbols_text(ground->symbols, why_rows_symbol(&rows, i, "meaning"));
    const char* pattern = why_symbols_text(ground->symbols, why_rows_symbol(&rows, i, "pattern"));
    const why_regex* regex = why_regex_new(question->arena, pattern, question->problems, "notation",
                                           (why_place){.file = "rules/reasoning/notation.xml"});
    if (!regex)
      return WHY_KNOWLEDGE;
    *WHY_LIST_ADD(question->arena, notation->rows) = (why_notation_row){meaning_of(meaning), regex};
  }
  read_shorthands(question, overlay, notation);
  return why_overlay_status(overlay);
}

/// Digits with at most one point or comma between them.
static void read_numbers(const char* text, why_written* found) {
  found->count = 0;
  for (size_t i = found->start; i < found->end && found->count < WHY_WRITTEN_NUMBERS;) {
    if (text[i] < '0' || text[i] > '9') {
      i++;
      continue;
    }
    double number = 0;
    for (; i < found->end && text[i] >= '0' && text[i] <= '9'; i++)
      number = 10 * number + (text[i] - '0');
    bool part = i + 1 < found->end && (text[i] == '.' || text[i] == ',') && text[i + 1] >= '0' &&
                text[i + 1] <= '9' && found->meaning != WHY_WRITES_LIST;
    double tenth = 0.1;
    for (i += part; part && i < found->end && text[i] >= '0' && text[i] <= '9'; i++, tenth /= 10)
      number += tenth * (text[i] - '0');
    found->numbers[found->count++] = number;
  }
}

bool why_notation_find(why_notation* notation, size_t row, const char* text, size_t from,
                       why_written* found) {
  const why_notation_row* at = &notation->rows.at[row];
  found->meaning = at->meaning;
  if (why_regex_find(at->regex, text, from, notation->arena, &notation->matcher, &found->start,
                     &found->end) != WHY_MATCH ||
      found->end == found->start)
    return false;
  read_numbers(text, found);
  return true;
}

bool why_notation_means(why_notation* notation, why_writes meaning, const char* text,
                        why_written* found) {
  for (size_t i = 0; i < notation->rows.count; i++)
    if (notation->rows.at[i].meaning == meaning && why_notation_find(notation, i, text, 0, found))
      return true;
  return false;
}
