// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out the audit of a programme: what was understood of it, what it amounts to, what the rules
// remark on, and what would help most.
#include "measured_part.h"
#include "parts.h"
#include "report.h"
#include "week_picture.h"

#include <math.h>

/// What the parts of this file hand to each other.
typedef struct {
  why_arena* arena;
  const why_ground* ground;
  const why_audit* audit;
} teller;

static const char* id_of(const teller* t, why_symbol symbol) {
  return symbol ? why_symbols_text(t->ground->symbols, symbol) : NULL;
}

static const char* name_of(const teller* t, const char* kind, why_symbol symbol) {
  return why_ground_name(t->ground, t->arena, kind, id_of(t, symbol));
}

static why_node* say(const teller* t, why_node* into, why_role role, const char* words) {
  return why_node_words(t->arena, into, role, words);
}

static why_node* open_table(const teller* t, why_node* root, const char* name, const char* heading,
                            const char* columns) {
  say(t, root, WHY_ROLE_HEADING, heading);
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, name);
  list->role = WHY_ROLE_TABLE;
  list->words = heading;
  say(t, list, WHY_ROLE_COLUMNS, columns);
  return list;
}

static why_node* add_row(const teller* t, why_node* list, const char* words) {
  why_node* row = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  row->role = WHY_ROLE_ROW;
  row->words = words;
  return row;
}

static void add_span(const teller* t, why_node* row, const char* name, why_from_to span) {
  if (isnan(span.low)) {
    why_node_text(t->arena, row, name, NULL);
    return;
  }
  why_node* record = why_node_add(t->arena, row, WHY_NODE_RECORD, name);
  why_node_number(t->arena, record, "low", span.low);
  why_node_number(t->arena, record, "high", span.high);
}

static const char* span_words(const teller* t, why_from_to span, const char* unit) {
  if (isnan(span.low))
    return "";
  if (span.low == span.high)
    return why_arena_print(t->arena, " × %g%s", span.low, unit);
  return why_arena_print(t->arena, " × %g–%g%s", span.low, span.high, unit);
}

static void add_entry(const teller* t, why_node* table, why_node* list,
                      const why_programme_day* day, const why_programme_row* row) {
  const char* name = name_of(t, "exercise", row->exercise);
  const char* times =
      day->times > 1 && !day->weekdays ? why_arena_print(t->arena, " (%g times)", day->times) : "";
  say(t, table, WHY_ROLE_ROW,
      why_arena_print(t->arena, "%s%s\t%u\t%g%s%s\t%s", day->name, times, row->place.line,
                      row->sets, span_words(t, row->repetitions, ""),
                      span_words(t, row->seconds, " s or steps"), name));
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  why_node_number(t->arena, record, "line", row->place.line);
  why_node_text(t->arena, record, "exercise", id_of(t, row->exercise));
  why_node_text(t->arena, record, "name", name);
  why_node_number(t->arena, record, "sets", row->sets);
  add_span(t, record, "repetitions", row->repetitions);
  add_span(t, record, "seconds", row->seconds);
  add_span(t, record, "reserve", row->reserve);
  why_node_number(t->arena, record, "kg", row->load_kg);
}

static void add_understood(const teller* t, why_node* root) {
  const why_programme* programme = t->audit->programme;
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, "understood");
  why_node_text(t->arena, record, "level", t->audit->level);
  why_part_asked(t->audit->question, t->arena, record);
  say(t, record, WHY_ROLE_HEADING, "What was understood");
  why_node* table = why_node_add(t->arena, record, WHY_NODE_WORDS, NULL);
  table->role = WHY_ROLE_TABLE;
  table->words = "What was understood";
  say(t, table, WHY_ROLE_COLUMNS, "session\tline\tsets\texercise");
  why_node* days = why_node_add(t->arena, record, WHY_NODE_LIST, "days");
  for (size_t i = 0; i < programme->days.count; i++) {
    const why_programme_day* day = &programme->days.at[i];
    why_node* each = why_node_add(t->arena, days, WHY_NODE_RECORD, NULL);
    why_node_text(t->arena, each, "name", day->name);
    why_node_number(t->arena, each, "times", day->times);
    why_node* list = why_node_add(t->arena, each, WHY_NODE_LIST, "entries");
    for (size_t k = 0; k < day->rows.count; k++)
      add_entry(t, table, list, day, &day->rows.at[k]);
  }
}

static void add_unread(const teller* t, why_node* root) {
  const why_programme* programme = t->audit->programme;
  if (programme->unread.count)
    say(t, root, WHY_ROLE_HEADING, "Not understood, or only in part");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "unread");
  for (size_t i = 0; i < programme->unread.count; i++) {
    const why_unread* each = &programme->unread.at[i];
    why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    record->role = WHY_ROLE_POINT;
    record->words =
        why_arena_print(t->arena, "Line %u, “%s”: %s%s%s", each->place.line, each->text, each->why,
                        each->hint ? "; " : "", each->hint ? each->hint : "");
    why_node_number(t->arena, record, "line", each->place.line);
    why_node_number(t->arena, record, "column", each->place.column);
    why_node_text(t->arena, record, "text", each->text);
    why_node_text(t->arena, record, "why", each->why);
    why_node_text(t->arena, record, "hint", each->hint);
  }
}

static void add_groups(const teller* t, why_node* root) {
  why_node* list =
      open_table(t, root, "groups", "Weekly sets of the major muscle groups", "sets\tgroup");
  for (size_t i = 0; i < t->audit->groups.count; i++) {
    const why_audit_group* each = &t->audit->groups.at[i];
    why_node* row = add_row(
        t, list,
        why_arena_print(t->arena, "%.4g\t%s", each->sets, name_of(t, "group", each->group)));
    why_node_text(t->arena, row, "group", id_of(t, each->group));
    why_node_number(t->arena, row, "sets", each->sets);
  }
  say(t, root, WHY_ROLE_PARAGRAPH,
      "A set counts for a group as for that head of it for which it counts most: 1 where a head is "
      "a "
      "prime mover, 0.5 where heads only assist (volume-fractional-counting).");
}

static void add_picture(const teller* t, why_node* root) {
  why_week_bars* bars = WHY_NEW(t->arena, why_week_bars);
  for (size_t i = 0; i < t->audit->heads.count; i++) {
    const why_audit_head* each = &t->audit->heads.at[i];
    *WHY_LIST_ADD(t->arena, *bars) =
        (why_week_bar){name_of(t, "head", each->head), each->direct, each->published, NAN};
  }
  why_part_week(t->arena, root, bars);
}

static void add_heads(const teller* t, why_node* root) {
  why_node* list = open_table(t, root, "heads", "Weekly sets of each head",
                              "direct\thalves\tcomputed\tshort/middle/long\thead");
  for (size_t i = 0; i < t->audit->heads.count; i++) {
    const why_audit_head* each = &t->audit->heads.at[i];
    why_node* row = add_row(t, list,
                            why_arena_print(t->arena, "%.4g\t%.4g\t%.3g\t%.4g/%.4g/%.4g\t%s",
                                            each->direct, each->published, each->computed,
                                            each->at_length[0], each->at_length[1],
                                            each->at_length[2], name_of(t, "head", each->head)));
    why_node_text(t->arena, row, "head", id_of(t, each->head));
    why_node_number(t->arena, row, "direct", each->direct);
    why_node_number(t->arena, row, "published", each->published);
    why_node_number(t->arena, row, "computed", each->computed);
    why_node_number(t->arena, row, "short", each->at_length[0]);
    why_node_number(t->arena, row, "middle", each->at_length[1]);
    why_node_number(t->arena, row, "long", each->at_length[2]);
  }
  say(t, root, WHY_ROLE_PARAGRAPH,
      "Direct: sets in which the head is a prime mover, beside by its length under load. Halves: "
      "sets in which it assists added as half a set, as trials fit best. Computed: these added by "
      "the head's share of stress in the mechanics of the exercise.");
}

static void add_actions(const teller* t, why_node* root, const char* name, const char* lead,
                        const why_symbol_list* actions) {
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, name);
  why_buffer words = {.arena = t->arena};
  for (size_t i = 0; i < actions->count; i++) {
    why_node_text(t->arena, list, NULL, id_of(t, actions->at[i]));
    why_buffer_print(&words, "%s%s", i ? ", " : lead, name_of(t, "action", actions->at[i]));
  }
  if (actions->count)
    say(t, root, WHY_ROLE_POINT, why_buffer_text(&words));
}

static void add_days(const teller* t, why_node* root) {
  why_node* list =
      open_table(t, root, "sessions", "Load along the spine, session by session",
                 "session\tsets\tof them with high load along the spine (medium as halves)");
  for (size_t i = 0; i < t->audit->days.count; i++) {
    const why_audit_day* each = &t->audit->days.at[i];
    why_node* row = add_row(
        t, list, why_arena_print(t->arena, "%s\t%g\t%g", each->name, each->sets, each->spine));
    why_node_text(t->arena, row, "name", each->name);
    why_node_number(t->arena, row, "sets", each->sets);
    why_node_number(t->arena, row, "spine", each->spine);
  }
}

static void add_remarks(const teller* t, why_node* root) {
  const why_reasons* remarks = &t->audit->remarks;
  if (remarks->count)
    say(t, root, WHY_ROLE_HEADING, "Remarks");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "remarks");
  for (size_t i = 0; i < remarks->count; i++) {
    const why_reason* each = &remarks->at[i];
    why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    record->role = WHY_ROLE_POINT;
    record->words = each->say;
    why_node_text(t->arena, record, "say", each->say);
    why_node_text(t->arena, record, "rule", each->rule);
    why_node_text(t->arena, record, "grounds", each->grounds);
  }
}

enum { HEADS_TOLD = 5 };

static void print_heads(const teller* t, const char* lead, const why_symbol_list* heads,
                        why_buffer* text) {
  for (size_t i = 0; i < heads->count && i < HEADS_TOLD; i++)
    why_buffer_print(text, "%s%s", i ? ", " : lead, name_of(t, "head", heads->at[i]));
  if (heads->count > HEADS_TOLD)
    why_buffer_print(text, " and %zu more", heads->count - HEADS_TOLD);
}

static const char* change_words(const teller* t, const why_audit_change* change) {
  why_buffer text = {.arena = t->arena};
  const char* name = name_of(t, "exercise", change->exercise);
  if (change->instead)
    why_buffer_print(&text, "Swap: %s instead of %s (%g sets a week, %s)", name,
                     name_of(t, "exercise", change->instead), change->sets, change->day);
  else
    why_buffer_print(&text, "Add: %g sets of %s, such as in the shortest session (%s)",
                     change->sets, name, change->day);
  print_heads(t, "; nearer to enough: ", &change->heads, &text);
  print_heads(t, "; further from it: ", &change->lost, &text);
  return why_buffer_text(&text);
}

static void add_ids(const teller* t, why_node* record, const char* name,
                    const why_symbol_list* heads) {
  why_node* list = why_node_add(t->arena, record, WHY_NODE_LIST, name);
  for (size_t i = 0; i < heads->count; i++)
    why_node_text(t->arena, list, NULL, id_of(t, heads->at[i]));
}

static void add_change(const teller* t, why_node* root, const char* name,
                       const why_audit_change* change) {
  if (!change->exercise) {
    why_node_text(t->arena, root, name, NULL);
    return;
  }
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, name);
  record->role = WHY_ROLE_POINT;
  record->words = change_words(t, change);
  why_node_text(t->arena, record, "exercise", id_of(t, change->exercise));
  why_node_text(t->arena, record, "instead", id_of(t, change->instead));
  why_node_text(t->arena, record, "session", change->day);
  why_node_number(t->arena, record, "sets", change->sets);
  add_ids(t, record, "heads", &change->heads);
  add_ids(t, record, "lost", &change->lost);
}

static void add_changes(const teller* t, why_node* root) {
  say(t, root, WHY_ROLE_HEADING, "The single change that would help most");
  if (!t->audit->addition.exercise && !t->audit->swap.exercise)
    say(t, root, WHY_ROLE_POINT, "None: every head of the major groups gets enough.");
  add_change(t, root, "addition", &t->audit->addition);
  add_change(t, root, "swap", &t->audit->swap);
}

static void add_sources(const teller* t, why_node* root) {
  static const char* const USED[] = {"volume-fractional-counting", "volume-smallest-detectable",
                                     "volume-band-trained",        "volume-session-cap",
                                     "volume-trained-practice",    "range-long-vs-short"};
  say(t, root, WHY_ROLE_HEADING, "What the figures rest on");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "sources");
  for (size_t i = 0; i < sizeof USED / sizeof *USED; i++)
    why_part_measurement(t->ground, t->arena, list, USED[i]);
}

static double sessions_of(const why_programme* programme) {
  double sessions = 0;
  for (size_t i = 0; i < programme->days.count; i++)
    sessions += programme->days.at[i].times;
  return sessions;
}

why_node* why_report_audit(const why_audit* audit, why_arena* arena) {
  teller t = {arena, audit->question->ground, audit};
  double sessions = sessions_of(audit->programme);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node* title =
      say(&t, root, WHY_ROLE_TITLE,
          why_arena_print(
              arena, "A week of this programme: %g session%s, %zu line%s with an exercise",
              sessions, sessions == 1 ? "" : "s", audit->rows, audit->rows == 1 ? "" : "s"));
  title->mark = why_arena_print(arena, "level: %s%s", audit->level ? audit->level : "unknown",
                                audit->question->level ? "" : ", as nothing else was said");
  add_understood(&t, root);
  add_unread(&t, root);
  add_groups(&t, root);
  add_picture(&t, root);
  add_heads(&t, root);
  say(&t, root, WHY_ROLE_HEADING, "Joint actions");
  add_actions(&t, root, "covered", "Covered: ", &audit->covered);
  add_actions(&t, root, "missed", "Missed: ", &audit->missed);
  add_days(&t, root);
  add_remarks(&t, root);
  add_changes(&t, root);
  add_sources(&t, root);
  why_part_closing(t.ground, arena, root);
  return root;
}
