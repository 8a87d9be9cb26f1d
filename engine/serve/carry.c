// SPDX-License-Identifier: GPL-3.0-or-later
// The page to carry: folds inside folds, so that a browser needs no script, and a small script that
// finds names. Each goal and each exercise is asked once; only what one reads in a gym is kept.
#include "carry.h"

#include "asking.h"

#include <string.h>

/// What is built in, written by the build.
extern const char WHY_SERVE_SHEET_STYLE[];
extern const char WHY_CARRY_STYLE[];
extern const char WHY_CARRY_SCRIPT[];

enum { REASONS = 3 };

typedef struct {
  const why_site* site;
  const why_carry_request* request;
  why_bytes* out;
  size_t done;
  size_t all;
  json_t* closing; ///< An answer whose last words close the page.
} carry;

/// Ask one task about `text`, said under `name`, here and for this person.
static json_t* ask(carry* at, const char* task, const char* name, const char* text,
                   const char* top) {
  why_asking asking;
  why_asking_init(&asking, at->site->knowledge);
  why_asking_task_set(&asking, task);
  why_asking_say(&asking, name, text);
  why_asking_say(&asking, "top", top);
  for (size_t i = 0; i < at->request->count; i++)
    why_asking_say(&asking, at->request->pairs[i].name, at->request->pairs[i].value);
  json_t* read = why_asking_json(&asking);
  why_asking_clear(&asking);
  at->done++;
  if (at->request->progress)
    at->request->progress(at->request->user, at->done, at->all);
  return read;
}

static void add_points(const json_t* list, const char* member, size_t most, const char* lead,
                       why_bytes* out) {
  for (size_t i = 0; i < json_array_size(list) && i < most; i++) {
    const json_t* each = json_array_get(list, i);
    const char* text = member ? why_listed_text(each, member) : json_string_value(each);
    why_bytes_print(out, "<li>%s", lead);
    why_bytes_markup(out, text ? text : "");
    why_bytes_text(out, "</li>\n");
  }
}

static void add_pick(const json_t* pick, why_bytes* out) {
  const char* certainty = why_listed_text(pick, "certainty");
  why_bytes_text(out, "<li><details><summary>");
  why_bytes_markup(out, why_listed_text(pick, "name"));
  why_bytes_text(out, " <small>");
  why_bytes_markup(out, why_listed_text(pick, "recommendation"));
  why_bytes_print(out, "; certainty %s</small></summary>\n<ul>\n",
                  *certainty ? certainty : "not graded");
  add_points(json_object_get(pick, "reasons"), "say", REASONS, "", out);
  add_points(json_object_get(pick, "lost"), NULL, REASONS, "Lost: ", out);
  add_points(json_object_get(pick, "cautions"), NULL, REASONS, "<strong>Caution:</strong> ", out);
  why_bytes_text(out, "</ul></details></li>\n");
}

/// One goal or one exercise: its name, and folded below it the picks.
static void add_fold(carry* at, const json_t* row, const json_t* answer) {
  const json_t* picks = json_object_get(answer, "picks");
  const char* name = why_listed_text(row, "name");
  why_bytes_text(at->out, "<details class=\"found\"><summary>");
  why_bytes_markup(at->out, *name ? name : why_listed_text(row, "id"));
  if (!json_array_size(picks))
    why_bytes_text(at->out, " <small>nothing fits here</small>");
  why_bytes_text(at->out, "</summary>\n<ol>\n");
  for (size_t i = 0; i < json_array_size(picks); i++)
    add_pick(json_array_get(picks, i), at->out);
  why_bytes_text(at->out, "</ol>\n<ul>\n");
  if (!json_array_size(picks))
    add_points(json_object_get(answer, "notes"), NULL, REASONS, "", at->out);
  why_bytes_text(at->out, "</ul></details>\n");
}

static void add_list(carry* at, const char* anchor, const char* heading, const json_t* rows,
                     const char* task, const char* word, const char* top) {
  why_bytes_print(at->out, "<section>\n<h2 id=\"%s\">%s</h2>\n", anchor, heading);
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) {
    json_t* answer = ask(at, task, word, why_listed_text(row, "id"), top);
    if (!answer)
      continue;
    add_fold(at, row, answer);
    json_decref(at->closing);
    at->closing = answer;
  }
  why_bytes_text(at->out, "</section>\n");
}

static void add_given(const carry* at) {
  why_bytes_text(at->out, "<p class=\"mark\">");
  const char* before = "";
  for (size_t i = 0; i < at->request->count; i++) {
    const why_pair* pair = &at->request->pairs[i];
    why_bytes_print(at->out, "%s%s: ", before,
                    strcmp(pair->name, "have") == 0 ? "at hand" : pair->name);
    why_bytes_markup(at->out, pair->value);
    before = "; ";
  }
  why_bytes_text(at->out, *before ? "</p>\n" : "at hand: full gym, as nothing else was said</p>\n");
}

static void open_page(const carry* at) {
  why_bytes_text(
      at->out,
      "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n"
      "<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
      "style-src 'unsafe-inline'; script-src 'unsafe-inline'\"/>\n"
      "<title>Exercises to carry</title>\n<style>\n");
  why_bytes_text(at->out, WHY_SERVE_SHEET_STYLE);
  why_bytes_text(at->out, WHY_CARRY_STYLE);
  why_bytes_text(at->out, "</style>\n</head>\n<body>\n<main>\n<h1>Exercises to carry</h1>\n");
  add_given(at);
  why_bytes_text(at->out,
                 "<nav aria-label=\"Parts\"><a href=\"#groups\">Muscles</a> "
                 "<a href=\"#actions\">Movements</a> <a href=\"#heads\">Parts of muscles</a> "
                 "<a href=\"#swaps\">Swaps</a></nav>\n");
}

static void close_page(const carry* at) {
  const json_t* knowledge = json_object_get(at->closing, "knowledge");
  why_bytes_text(at->out, "<p>");
  why_bytes_markup(at->out, why_listed_text(at->closing, "caution"));
  why_bytes_text(at->out, "</p>\n<p>whylift ");
  why_bytes_markup(at->out, why_listed_text(knowledge, "version"));
  why_bytes_text(at->out, ", knowledge ");
  why_bytes_markup(at->out, why_listed_text(knowledge, "digest"));
  why_bytes_text(at->out, "</p>\n</main>\n<script>\n//<![CDATA[\n");
  why_bytes_text(at->out, WHY_CARRY_SCRIPT);
  why_bytes_text(at->out, "//]]>\n</script>\n</body>\n</html>\n");
}

/// Whether who asks and where is understood; what is wrong is among `problems` otherwise.
static why_status check(carry* at, json_t** problems) {
  why_asking asking;
  why_asking_init(&asking, at->site->knowledge);
  for (size_t i = 0; i < at->request->count; i++)
    why_asking_say(&asking, at->request->pairs[i].name, at->request->pairs[i].value);
  why_status status = asking.status;
  *problems = why_asking_problems(&asking);
  why_asking_clear(&asking);
  return *problems ? status : WHY_MACHINE;
}

why_status why_carry_write(const why_site* site, const why_carry_request* request, why_bytes* out,
                           json_t** problems) {
  const why_choices* choices = &site->choices;
  carry at = {.site = site, .request = request, .out = out};
  why_status status = check(&at, problems);
  if (status != WHY_OK)
    return status;
  at.all = json_array_size(choices->groups) + json_array_size(choices->actions) +
           json_array_size(choices->heads) + json_array_size(choices->exercises);
  open_page(&at);
  add_list(&at, "groups", "Muscles to train", choices->groups, "pick", "goal", "5");
  add_list(&at, "actions", "Movements to train", choices->actions, "pick", "goal", "5");
  add_list(&at, "heads", "Parts of muscles to train", choices->heads, "pick", "goal", "3");
  add_list(&at, "swaps", "Instead of an exercise", choices->exercises, "swap", "replaced", "3");
  close_page(&at);
  json_decref(at.closing);
  return out->failed ? WHY_MACHINE : WHY_OK;
}
