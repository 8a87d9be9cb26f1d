// SPDX-License-Identifier: GPL-3.0-or-later
// Resolving what people type, with near matches for what is not known.
#include "question.h"

#include <math.h>
#include <string.h>

void why_question_init(why_question* question, const why_ground* ground, why_arena* arena,
                       why_problems* problems) {
  *question = (why_question){
      .ground = ground, .arena = arena, .problems = problems, .top = WHY_TOP_USUAL, .list = ""};
}

static const why_place NOWHERE = {0};

static const char* name_of(const why_question* question, const why_word_hit* hit) {
  return why_ground_name(question->ground, question->arena, why_meaning_name(hit->kind),
                         hit->id_text);
}

static void hint_hits(why_question* question, const char* lead, const why_word_hits* hits) {
  why_buffer text = {.arena = question->arena};
  for (size_t i = 0; i < hits->count; i++)
    why_buffer_print(&text, "%s%s", i ? ", " : "",
                     hits->at[i].id ? hits->at[i].id_text : hits->at[i].word);
  if (hits->count)
    why_problems_hint(question->problems, "%s: %s", lead, why_buffer_text(&text));
}

why_status why_question_refuse(why_question* question, const char* check, const char* sentence,
                               const char* typed) {
  why_problems_add(question->problems, WHY_ERROR, check, NOWHERE, "%s: \"%.*s\"", sentence,
                   why_text_fit(typed, WHY_SHOWN_LIMIT), typed);
  return WHY_QUESTION;
}

static why_status refuse_unknown(why_question* question, const char* check, const char* typed,
                                 unsigned kinds) {
  const why_words* words = question->ground->words;
  why_word_hits elsewhere = why_words_find(words, question->arena, typed, WHY_MEANS_ANY);
  if (elsewhere.count && elsewhere.at[0].id) {
    why_question_refuse(question, check, "this is not what is asked for here", typed);
    why_problems_hint(question->problems, "it means the %s %s",
                      why_meaning_name(elsewhere.at[0].kind), name_of(question, &elsewhere.at[0]));
    return WHY_QUESTION;
  }
  why_question_refuse(question, check, "unknown word", typed);
  why_word_hits near = why_words_near(words, question->arena, typed, kinds);
  hint_hits(question, "near matches", &near);
  return WHY_QUESTION;
}

static why_status refuse_unmapped(why_question* question, const char* check, const char* typed,
                                  const why_lexicon_unmapped* unmapped) {
  why_question_refuse(question, check, "nothing in the knowledge base stands for this", typed);
  if (unmapped->near.kind)
    why_problems_hint(question->problems, "%s; the nearest is %s", unmapped->reason,
                      why_symbols_text(question->ground->symbols, unmapped->near.id));
  else
    why_problems_hint(question->problems, "%s", unmapped->reason);
  return WHY_QUESTION;
}

/// The one meaning of `typed` among `first`, else among `second` (0: no second try).
static why_status resolve(why_question* question, const char* check, const char* typed,
                          unsigned first, unsigned second, why_thing* thing) {
  const why_words* words = question->ground->words;
  why_word_hits hits = why_words_find(words, question->arena, typed, first);
  if (second && (!hits.count || !hits.at[0].id)) {
    why_word_hits others = why_words_find(words, question->arena, typed, second);
    if (others.count)
      hits = others;
  }
  if (!hits.count)
    return refuse_unknown(question, check, typed, first | second);
  if (hits.count > 1) {
    why_question_refuse(question, check, "this can mean several things", typed);
    hint_hits(question, "say one of", &hits);
    return WHY_QUESTION;
  }
  if (!hits.at[0].id)
    return refuse_unmapped(question, check, typed, hits.at[0].unmapped);
  *thing = (why_thing){.kind = hits.at[0].kind, .id = hits.at[0].id, .limit_kg = NAN};
  return WHY_OK;
}

why_status why_question_resolve(why_question* question, const char* check, const char* typed,
                                unsigned kinds, why_thing* thing) {
  return resolve(question, check, typed, kinds, 0, thing);
}

why_status why_question_goal(why_question* question, const char* typed) {
  return resolve(question, "goal", typed, WHY_MEANS_GOAL, 0, &question->goal);
}

why_status why_question_exercise(why_question* question, const char* typed, why_symbol* exercise) {
  why_thing thing = {0};
  why_status status = resolve(question, "exercise", typed, WHY_MEANS_EXERCISE, 0, &thing);
  *exercise = thing.id;
  return status;
}

/// A goal, else an exercise.
why_status why_question_subject(why_question* question, const char* typed) {
  why_thing thing = {0};
  why_status status =
      resolve(question, "subject", typed, WHY_MEANS_GOAL, WHY_MEANS_EXERCISE, &thing);
  if (thing.kind == WHY_MEANS_EXERCISE)
    question->exercise = thing.id;
  else
    question->goal = thing;
  return status;
}

why_status why_question_study(why_question* question, const char* typed) {
  const why_tables* tables = question->ground->tables;
  question->study = why_symbols_find(tables->symbols, typed);
  if (question->study && why_study_find(&tables->studies, question->study))
    return WHY_OK;
  question->study = 0;
  why_question_refuse(question, "study", "no study has this id", typed);
  why_problems_hint(question->problems, "say `list studies` for all of them");
  return WHY_QUESTION;
}

const char* why_question_level_at(size_t index) {
  static const char* const LEVELS[] = {"beginner", "intermediate", "advanced"};
  return index < sizeof LEVELS / sizeof *LEVELS ? LEVELS[index] : NULL;
}

why_status why_question_level(why_question* question, const char* typed) {
  for (size_t i = 0; why_question_level_at(i); i++) {
    if (strcmp(typed, why_question_level_at(i)) == 0) {
      question->level = why_question_level_at(i);
      return WHY_OK;
    }
  }
  why_question_refuse(question, "level", "unknown level", typed);
  why_problems_hint(question->problems, "say beginner, intermediate or advanced");
  return WHY_QUESTION;
}

why_status why_question_top(why_question* question, const char* typed) {
  if (strcmp(typed, "all") == 0) {
    question->top = WHY_TOP_LIMIT;
    return WHY_OK;
  }
  double number = 0;
  if (!why_parse_number(typed, &number) || number < 1 || number > WHY_TOP_LIMIT ||
      number != floor(number))
    return why_question_refuse(question, "top", "a whole number from 1 to 1000 is wanted", typed);
  question->top = (size_t)number;
  return WHY_OK;
}

/// A limit behind a colon ("dumbbells:15kg"), cut off from `word`.
static why_status take_limit(why_question* question, char* word, double* limit_kg) {
  char* colon = strchr(word, ':');
  *limit_kg = NAN;
  if (!colon)
    return WHY_OK;
  *colon = '\0';
  char* unit = colon + 1 + strspn(colon + 1, "0123456789.");
  if (*unit && strcmp(unit, "kg") != 0)
    return why_question_refuse(question, "limit", "a limit is written like dumbbells:15kg, not",
                               colon + 1);
  *unit = '\0';
  if (!why_parse_number(colon + 1, limit_kg) || *limit_kg <= 0 || *limit_kg > 1000)
    return why_question_refuse(question, "limit",
                               "a limit is a number of kilograms up to 1000, not", colon + 1);
  return WHY_OK;
}

static char* trim(char* word) {
  word += strspn(word, " \t");
  size_t length = strlen(word);
  while (length && (word[length - 1] == ' ' || word[length - 1] == '\t'))
    word[--length] = '\0';
  return word;
}

/// A word that means more when it is missing ("leg curl machine") adds all that it means then.
static bool add_missing(why_question* question, const char* word) {
  const why_lexicon* lexicon = &question->ground->tables->lexicon;
  const char* key = why_spell_key(question->arena, word, true);
  bool found = false;
  for (size_t i = 0; i < lexicon->missing.count; i++) {
    const why_lexicon_missing* row = &lexicon->missing.at[i];
    if (strcmp(key, why_spell_key(question->arena, row->word, true)) != 0)
      continue;
    for (size_t k = 0; k < row->items.count; k++)
      *WHY_LIST_ADD(question->arena, question->without) =
          (why_thing){.kind = WHY_MEANS_ITEM, .id = row->items.at[k], .limit_kg = NAN};
    found = true;
  }
  return found;
}

/// Resolve every word of a comma-separated list; all that is wrong is reported.
static why_status add_all(why_question* question, const char* check, const char* list,
                          unsigned first, unsigned second, why_things* things) {
  why_status status = WHY_OK;
  char* rest = why_arena_copy(question->arena, list, strlen(list));
  for (char* next = rest; next; rest = next) {
    next = strchr(rest, ',');
    if (next)
      *next++ = '\0';
    char* word = trim(rest);
    why_thing thing = {0};
    double limit_kg = NAN;
    why_status each = WHY_OK;
    if (!*word)
      each = why_question_refuse(question, check, "a word is missing in the list", list);
    else if (things->count >= WHY_WORDS_LIMIT)
      return why_question_refuse(question, check, "the list is too long", word);
    else if (things == &question->without && add_missing(question, word))
      continue;
    else if (take_limit(question, word, &limit_kg) == WHY_OK)
      each = resolve(question, check, word, first, second, &thing);
    else
      each = WHY_QUESTION;
    thing.limit_kg = limit_kg;
    if (each == WHY_OK)
      *WHY_LIST_ADD(question->arena, *things) = thing;
    else
      status = each;
  }
  return status;
}

why_status why_question_have(why_question* question, const char* list) {
  return add_all(question, "have", list, WHY_MEANS_THING, WHY_MEANS_KIND, &question->have);
}

why_status why_question_without(why_question* question, const char* list) {
  return add_all(question, "without", list, WHY_MEANS_KIND, WHY_MEANS_ITEM, &question->without);
}

why_status why_question_get(why_question* question, const char* list) {
  why_status status = question->have.count ? WHY_OK : why_question_have(question, WHY_PLACE_USUAL);
  return status == WHY_OK ? why_question_have(question, list) : status;
}

static bool take_away(why_things* things, const why_thing* thing) {
  size_t kept = 0;
  for (size_t i = 0; i < things->count; i++)
    if (things->at[i].kind != thing->kind || things->at[i].id != thing->id)
      things->at[kept++] = things->at[i];
  bool went = kept < things->count;
  things->count = kept;
  return went;
}

why_status why_question_allow(why_question* question, const char* list) {
  why_things things = {0};
  why_status status =
      add_all(question, "allow", list, WHY_MEANS_RESTRICTION | WHY_MEANS_KIND | WHY_MEANS_ITEM,
              WHY_MEANS_EXERCISE, &things);
  for (size_t i = 0; i < things.count && status == WHY_OK; i++) {
    const why_thing* each = &things.at[i];
    if (!take_away(&question->avoid, each) && !take_away(&question->without, each) &&
        !take_away(&question->declined, each))
      status = why_question_refuse(question, "allow", "this was not ruled out",
                                   why_symbols_text(question->ground->symbols, each->id));
  }
  return status;
}

why_status why_question_avoid(why_question* question, const char* list) {
  return add_all(question, "avoid", list, WHY_MEANS_RESTRICTION, 0, &question->avoid);
}

static void assume(why_overlay* overlay, const why_program* program, const char* relation,
                   why_value first, why_value second) {
  why_relation found = why_program_find(program, relation);
  if (found == WHY_NO_RELATION)
    return;
  const why_value values[] = {first, second};
  if (why_program_relation(program, found)->slot_count <= 2)
    why_overlay_assume(overlay, found, values);
}

static void assume_id(why_overlay* overlay, const why_program* program, const char* relation,
                      why_symbol id) {
  assume(overlay, program, relation, why_value_of_symbol(id), why_value_of_symbol(0));
}

static void assume_goal(const why_question* question, why_overlay* overlay) {
  const why_program* program = question->ground->program;
  const why_thing* goal = &question->goal;
  if (goal->kind == WHY_MEANS_HEAD)
    assume_id(overlay, program, "goal-head", goal->id);
  if (goal->kind == WHY_MEANS_GROUP)
    assume_id(overlay, program, "goal-group", goal->id);
  if (goal->kind == WHY_MEANS_ACTION)
    assume_id(overlay, program, "goal-action", goal->id);
  if (goal->kind != WHY_MEANS_SET)
    return;
  const why_lexicon_entry* set = why_lexicon_set_find(&question->ground->tables->lexicon, goal->id);
  for (size_t i = 0; set && i < set->of.count; i++) {
    assume_id(overlay, program, "goal-group", set->of.at[i]);
    assume_id(overlay, program, "goal-head", set->of.at[i]);
  }
}

static void assume_things(const why_question* question, why_overlay* overlay,
                          const why_things* things, const char* item, const char* kind) {
  const why_program* program = question->ground->program;
  for (size_t i = 0; i < things->count; i++) {
    const why_thing* each = &things->at[i];
    if (each->kind == WHY_MEANS_PLACE)
      assume_id(overlay, program, "have-place", each->id);
    else
      assume_id(overlay, program, each->kind == WHY_MEANS_KIND ? kind : item, each->id);
    if (isfinite(each->limit_kg))
      assume(overlay, program, "load-limit", why_value_of_symbol(each->id),
             why_value_of_number(each->limit_kg));
  }
}

/// One of several goals, which all count alike, however large their muscles are.
static void assume_part(const why_question* question, const why_thing* goal, size_t number,
                        why_overlay* overlay) {
  const why_program* program = question->ground->program;
  why_value part = why_value_of_number((double)number);
  const char* relation = goal->kind == WHY_MEANS_HEAD     ? "part-head"
                         : goal->kind == WHY_MEANS_ACTION ? "part-action"
                                                          : "part-group";
  const why_lexicon_entry* set =
      goal->kind == WHY_MEANS_SET
          ? why_lexicon_set_find(&question->ground->tables->lexicon, goal->id)
          : NULL;
  if (!set)
    assume(overlay, program, relation, part, why_value_of_symbol(goal->id));
  for (size_t i = 0; set && i < set->of.count; i++) {
    assume(overlay, program, "part-group", part, why_value_of_symbol(set->of.at[i]));
    assume(overlay, program, "part-head", part, why_value_of_symbol(set->of.at[i]));
  }
}

static void assume_goals(const why_question* question, why_overlay* overlay) {
  if (!question->also.count) {
    assume_goal(question, overlay);
    return;
  }
  assume_part(question, &question->goal, 1, overlay);
  for (size_t i = 0; i < question->also.count; i++)
    assume_part(question, &question->also.at[i], i + 2, overlay);
}

void why_question_assume(const why_question* question, why_overlay* overlay) {
  const why_program* program = question->ground->program;
  why_symbols* symbols = why_overlay_symbols(overlay);
  if (question->replaced)
    assume_id(overlay, program, "replaced", question->replaced);
  else
    assume_goals(question, overlay);
  assume_things(question, overlay, &question->have, "have-item", "have-kind");
  if (!question->have.count)
    assume_id(overlay, program, "have-place", why_symbols_add(symbols, WHY_PLACE_USUAL));
  assume_things(question, overlay, &question->without, "without-item", "without-kind");
  for (size_t i = 0; i < question->avoid.count; i++)
    assume_id(overlay, program, "avoids", question->avoid.at[i].id);
  for (size_t i = 0; i < question->declined.count; i++)
    assume_id(overlay, program,
              question->declined.at[i].kind == WHY_MEANS_PATTERN ? "declined-pattern"
                                                                 : "declined-exercise",
              question->declined.at[i].id);
  if (question->exercise)
    assume_id(overlay, program, "explained", question->exercise);
  if (question->other)
    assume_id(overlay, program, "explained", question->other);
  if (question->level)
    assume_id(overlay, program, "level", why_symbols_add(symbols, question->level));
  why_question_assume_plan(question, overlay);
}
