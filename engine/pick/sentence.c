// SPDX-License-Identifier: GPL-3.0-or-later
// A sentence that a rule makes about one head (or item) after another is said once: it is rendered
// with a mark in place of the name, equal renderings are gathered, and the names are put in at the
// end.
#include "sentence.h"

#include "shown.h"

#include <string.h>

enum { NAMES_LIMIT = 8 };

static const char MARK[] = "\x01";

/// What a naming callback works with.
typedef struct {
  const why_picked* answer;
  const char* marked; ///< Id whose name is replaced by MARK; NULL: none.
} naming_state;

static const char* name_thing(void* user, const char* kind, const char* id) {
  const naming_state* state = user;
  if (state->marked && strcmp(id, state->marked) == 0)
    return MARK;
  return why_ground_name(state->answer->question->ground, state->answer->arena, kind, id);
}

why_naming why_sentence_naming(const why_picked* answer) {
  naming_state* state = WHY_NEW(answer->arena, naming_state);
  state->answer = answer;
  return (why_naming){.name = name_thing, .user = state};
}

const char* why_sentence_of(const why_picked* answer, const why_derivation* derivation) {
  why_naming naming = why_sentence_naming(answer);
  return why_say(answer->overlay, derivation, &naming, answer->arena);
}

/// Whether a sentence comes with the studies behind it.
typedef enum { PROVEN, SAID } depth;

/// A sentence on its way: the marked rendering and the names to put in.
typedef struct {
  why_reason reason;
  const char* kind; ///< Of the things that are named together.
  why_symbol_list named;
  why_behind_set* behind; ///< The studies it rests on.
} draft;

typedef WHY_LIST(draft) draft_list;

static const char* certainty_of_grounds(const why_picked* answer, why_symbol grounds) {
  const why_program* program = answer->question->ground->program;
  why_relation relation = why_program_find(program, "grounds-certainty");
  if (relation == WHY_NO_RELATION)
    return NULL;
  why_value values[WHY_SLOTS_LIMIT] = {why_value_of_symbol(grounds)};
  why_facts facts = why_facts_find(answer->overlay, relation, 1, values);
  if (!facts.count)
    return NULL;
  const why_slot* certainty = &why_program_relation(program, relation)->slots[1];
  double level = why_fact_number(answer->overlay, facts.at[0], 1);
  return why_ground_name(answer->question->ground, answer->arena, "level",
                         why_slot_level(program, certainty, level));
}

static draft* find_draft(draft_list* drafts, const char* say, const char* rule) {
  for (size_t i = 0; i < drafts->count; i++)
    if (strcmp(drafts->at[i].reason.say, say) == 0 && strcmp(drafts->at[i].reason.rule, rule) == 0)
      return &drafts->at[i];
  return NULL;
}

/// The slot whose names are drawn together: that of a head, else of an item, else of a quality; -1
/// if there is none.
static int joined_slot(const why_program* program, why_relation relation, const char** kind) {
  static const char* const KINDS[] = {"head", "item", "quality"};
  int slot = -1;
  for (size_t i = 0; i < sizeof KINDS / sizeof *KINDS && slot < 0; i++) {
    *kind = KINDS[i];
    slot = why_program_slot(program, relation, *kind);
  }
  return slot;
}

/// The last step to a fact: that of its best proof, which takes all that it rests on to find, or
/// the first by rule and premises. NULL when no rule gives the fact.
static const why_derivation* step_to(const why_picked* answer, why_fact fact, depth how) {
  const why_derivation* step = NULL;
  if (how == SAID) {
    if (!why_derivations(answer->overlay, fact, &step))
      return NULL;
  } else {
    const why_proof* proof = why_proof_best(answer->overlay, fact);
    step = proof ? &proof->step : NULL;
  }
  return step && step->rule ? step : NULL;
}

static void add_fact(const why_picked* answer, why_fact fact, depth how, draft_list* drafts) {
  const why_ground* ground = answer->question->ground;
  const why_derivation* step = step_to(answer, fact, how);
  if (!step)
    return;
  const why_rule_info* rule = step->rule;
  const char* kind = NULL;
  int joined = joined_slot(ground->program, fact.relation, &kind);
  naming_state state = {.answer = answer};
  if (joined >= 0)
    state.marked =
        why_symbols_text(ground->symbols, why_fact_symbol(answer->overlay, fact, joined));
  why_naming naming = {.name = name_thing, .user = &state};
  const char* say = why_say(answer->overlay, step, &naming, answer->arena);
  if (!*say)
    return;
  const char* id = why_symbols_text(ground->symbols, rule->id);
  draft* into = find_draft(drafts, say, id);
  if (!into) {
    into = WHY_LIST_ADD(answer->arena, *drafts);
    into->reason = (why_reason){.say = say,
                                .rule = id,
                                .grounds = why_symbols_text(ground->symbols, rule->grounds),
                                .certainty = certainty_of_grounds(answer, rule->grounds)};
    into->kind = kind;
    into->behind = why_behind_none(ground->behind, answer->arena);
  }
  if (joined >= 0)
    *WHY_LIST_ADD(answer->arena, into->named) = why_fact_symbol(answer->overlay, fact, joined);
  if (how == PROVEN)
    why_behind_take(ground->behind, answer->overlay, fact, into->behind);
}

static const char* join_names(const why_picked* answer, const draft* from) {
  const why_ground* ground = answer->question->ground;
  why_buffer text = {.arena = answer->arena};
  size_t count = from->named.count;
  size_t shown = count <= NAMES_LIMIT ? count : NAMES_LIMIT;
  for (size_t i = 0; i < shown; i++) {
    const char* lead = i == 0 ? "" : i + 1 < count ? ", " : " and ";
    why_buffer_print(&text, "%s%s", lead,
                     why_ground_name(ground, answer->arena, from->kind,
                                     why_symbols_text(ground->symbols, from->named.at[i])));
  }
  if (shown < count)
    why_buffer_print(&text, " and %zu more", count - shown);
  return why_buffer_text(&text);
}

static const char* put_in(const why_picked* answer, const char* say, const char* names) {
  why_buffer text = {.arena = answer->arena};
  for (const char* mark = strstr(say, MARK); mark; mark = strstr(say, MARK)) {
    why_buffer_add_bytes(&text, say, (size_t)(mark - say));
    why_buffer_add(&text, names);
    say = mark + strlen(MARK);
  }
  why_buffer_add(&text, say);
  return why_buffer_text(&text);
}

/// The sentences of facts of one relation.
static void collect(const why_picked* answer, why_facts facts, depth how, why_reasons* reasons) {
  draft_list drafts = {0};
  for (size_t i = 0; i < facts.count; i++)
    add_fact(answer, facts.at[i], how, &drafts);
  for (size_t i = 0; i < drafts.count; i++) {
    why_reason* made = WHY_LIST_ADD(answer->arena, *reasons);
    *made = drafts.at[i].reason;
    why_behind_list(answer->question->ground->behind, drafts.at[i].behind, answer->arena,
                    &made->studies);
    made->say = put_in(answer, made->say, join_names(answer, &drafts.at[i]));
  }
}

static void collect_about(const why_picked* answer, const char* part, why_symbol exercise,
                          depth how, why_reasons* reasons) {
  const why_relation_list* relations = why_shown_relations(answer, part);
  for (size_t i = 0; i < relations->count; i++)
    collect(answer, why_shown_about(answer, relations->at[i], exercise), how, reasons);
}

void why_sentence_collect(const why_picked* answer, const char* part, why_symbol exercise,
                          why_reasons* reasons) {
  collect_about(answer, part, exercise, PROVEN, reasons);
}

void why_sentence_collect_said(const why_picked* answer, const char* part, why_symbol exercise,
                               why_reasons* reasons) {
  collect_about(answer, part, exercise, SAID, reasons);
}

void why_sentence_collect_all(const why_picked* answer, const char* part, why_reasons* reasons) {
  const why_relation_list* relations = why_shown_relations(answer, part);
  for (size_t i = 0; i < relations->count; i++)
    collect(answer, why_facts_find(answer->overlay, relations->at[i], 0, NULL), PROVEN, reasons);
}

const char* why_sentence_verdict(const why_picked* answer, why_symbol exercise) {
  why_reasons verdicts = {0};
  why_sentence_collect(answer, "verdict", exercise, &verdicts);
  return verdicts.count ? verdicts.at[0].say : NULL;
}
