// SPDX-License-Identifier: GPL-3.0-or-later
// The names come from the same answers that everybody can ask for.
#include "site.h"

#include "asking.h"

#include <string.h>

const char* why_listed_text(const json_t* row, const char* name) {
  const char* text = json_string_value(json_object_get(row, name));
  return text ? text : "";
}

json_t* why_site_answer(const why_knowledge* knowledge, const char* task,
                        const char* const* names_and_texts) {
  why_asking asking;
  why_asking_init(&asking, knowledge);
  why_asking_task_set(&asking, task);
  for (const char* const* each = names_and_texts; *each; each += 2)
    why_asking_say(&asking, each[0], each[1]);
  json_t* read = why_asking_json(&asking);
  why_asking_clear(&asking);
  return read;
}

static json_t* list_of(const why_knowledge* knowledge, const char* kind) {
  json_t* answer = why_site_answer(knowledge, "list", (const char*[]){"kind", kind, NULL});
  json_t* rows = json_incref(json_object_get(answer, "rows"));
  json_decref(answer);
  return rows;
}

/// Whether a goal, or an exercise, can be asked for by this text alone.
static bool is_understood(const why_knowledge* knowledge, why_word_asked word, const char* text) {
  why_query* query = why_query_new(knowledge);
  bool understood = query && why_query_set(query, word, text) == WHY_OK;
  why_query_free(query);
  return understood;
}

/// People choose by name; where a name alone has several meanings, by id.
static void add_options(const why_site* site, why_word_asked word, const json_t* rows,
                        why_bytes* out) {
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) {
    const char* name = why_listed_text(row, "name");
    bool plain = *name && is_understood(site->knowledge, word, name);
    why_bytes_text(out, "<option value=\"");
    why_bytes_markup(out, plain ? name : why_listed_text(row, "id"));
    why_bytes_text(out, "\"></option>\n");
  }
}

static void add_parts(why_site* site, const char* kind) {
  json_t* rows = list_of(site->knowledge, kind);
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) {
    why_bytes_text(&site->parts, "<option value=\"");
    why_bytes_markup(&site->parts, why_listed_text(row, "id"));
    why_bytes_text(&site->parts, "\"></option>\n");
  }
  json_decref(rows);
}

bool why_site_init(why_site* site, const why_knowledge* knowledge, const char* folder) {
  *site = (why_site){.knowledge = knowledge, .folder = folder, .local = true};
  why_choices* choices = &site->choices;
  struct {
    json_t** list;
    const char* kind;
  } const kinds[] = {{&choices->places, "places"},
                     {&choices->equipment, "equipment"},
                     {&choices->restrictions, "restrictions"},
                     {&choices->groups, "groups"},
                     {&choices->actions, "actions"},
                     {&choices->heads, "heads"},
                     {&choices->exercises, "exercises"}};
  bool whole = true;
  for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
    *kinds[i].list = list_of(knowledge, kinds[i].kind);
    whole = whole && *kinds[i].list;
  }
  if (!whole)
    return false;
  add_options(site, WHY_GOAL, choices->groups, &site->goals);
  add_options(site, WHY_GOAL, choices->heads, &site->goals);
  add_options(site, WHY_GOAL, choices->actions, &site->goals);
  add_options(site, WHY_EXERCISE, choices->exercises, &site->exercises);
  add_parts(site, "studies");
  add_parts(site, "rules");
  return !site->parts.failed && !site->goals.failed && !site->exercises.failed;
}

void why_site_clear(why_site* site) {
  why_choices* choices = &site->choices;
  json_t* const lists[] = {choices->places,   choices->equipment, choices->restrictions,
                           choices->groups,   choices->actions,   choices->heads,
                           choices->exercises};
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
    json_decref(lists[i]);
  why_bytes_free(&site->parts);
  why_bytes_free(&site->goals);
  why_bytes_free(&site->exercises);
}
