// SPDX-License-Identifier: GPL-3.0-or-later
// A lesson on the wall: guess first, then the order; the chain of reasons of one exercise, one step
// on a page, with what it rests on below it. Steps are addresses, so that a lesson can be resumed.
#include "page.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { DEPTH = 24, GUESSES = 6, GUESSED_PICKS = 4, REASONS_SHOWN = 2 };

/// A way down the chain: numbers from 1, "2.1.3" in an address.
typedef struct {
  size_t at[DEPTH];
  size_t depth; ///< 0: before the first step.
} way;

typedef struct {
  const why_site* site;
  const why_address* address;
  why_bytes* out;
  const char* goal;
  const char* exercise; ///< An id once the answer is known.
  bool hidden;          ///< Each step waits to be shown.
} lesson;

static const char* name_in(const json_t* rows, const char* id) {
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) {
    if (strcmp(why_listed_text(row, "id"), id) == 0 && *why_listed_text(row, "name"))
      return why_listed_text(row, "name");
  }
  return NULL;
}

/// The goal of an answer, for people.
static const char* goal_name(const why_site* site, const json_t* answer) {
  const char* id = why_listed_text(json_object_get(answer, "understood"), "goal");
  const json_t* lists[] = {site->choices.groups, site->choices.heads, site->choices.actions};
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
    const char* name = name_in(lists[i], id);
    if (name)
      return name;
  }
  return id;
}

static const char* exercise_name(const why_site* site, const char* id) {
  const char* name = name_in(site->choices.exercises, id);
  return name ? name : id;
}

/// What is at hand, for people.
static void add_place(const lesson* at, const json_t* answer) {
  const json_t* have = json_object_get(json_object_get(answer, "understood"), "have");
  why_bytes_text(at->out, "<p class=\"given\">At hand: ");
  size_t index;
  json_t* each;
  json_array_foreach(have, index, each) {
    const char* id = json_string_value(each);
    const char* name = id ? name_in(at->site->choices.places, id) : NULL;
    name = name || !id ? name : name_in(at->site->choices.equipment, id);
    why_bytes_text(at->out, index ? ", " : "");
    why_bytes_markup(at->out, name ? name : id ? id : "");
  }
  why_bytes_text(at->out, ".</p>\n");
}

/// The address of a step, for an attribute; `exercise` NULL: of the guess.
static void add_target(const lesson* at, const char* exercise, const way* to, bool hidden) {
  why_bytes_text(at->out, "/class?goal=");
  why_bytes_address(at->out, at->goal);
  if (exercise) {
    why_bytes_text(at->out, "&amp;exercise=");
    why_bytes_address(at->out, exercise);
  }
  why_address_carry(at->address, WHY_PERSON, at->out);
  if (hidden)
    why_bytes_text(at->out, "&amp;hide=yes");
  for (size_t i = 0; to && i < to->depth; i++)
    why_bytes_print(at->out, i ? ".%zu" : "&amp;at=%zu", to->at[i]);
}

static void add_link(const lesson* at, const char* attributes, const way* to, const char* words) {
  why_bytes_print(at->out, "<a %s href=\"", attributes);
  add_target(at, at->exercise, to, at->hidden);
  why_bytes_print(at->out, "\">%s</a>\n", words);
}

static way read_way(const char* text) {
  way read = {0};
  while (text && *text >= '1' && *text <= '9' && read.depth < DEPTH) {
    char* end = NULL;
    read.at[read.depth++] = (size_t)strtoul(text, &end, 10);
    text = *end == '.' ? end + 1 : NULL;
  }
  return read;
}

static const json_t* list_below(const json_t* step) {
  return json_object_get(step, "because");
}

/// Follow `to` from `chain`: the step, its siblings and its parent (NULL at the top). The way is
/// cut where it leads nowhere.
static const json_t* follow(const json_t* chain, way* to, const json_t** siblings,
                            const json_t** parent) {
  const json_t* step = NULL;
  const json_t* list = chain;
  *siblings = chain;
  *parent = NULL;
  for (size_t i = 0; i < to->depth; i++) {
    const json_t* next = json_array_get(list, to->at[i] - 1);
    if (!next) {
      to->depth = i;
      break;
    }
    *parent = step;
    *siblings = list;
    step = next;
    list = list_below(step);
  }
  return step;
}

/// The keys stand on the links that they follow; script.js reads them.
static void add_keys(const lesson* at, const way* here, size_t siblings, size_t below) {
  why_bytes_text(at->out, "<nav class=\"steps\" aria-label=\"Steps\">\n");
  way to = *here;
  if (here->depth) {
    to.at[to.depth - 1]--;
    if (to.at[to.depth - 1] == 0)
      to.depth--;
    if (here->depth == 1 || here->at[here->depth - 1] > 1)
      add_link(at, "data-key=\"ArrowLeft\" rel=\"prev\"", &to, "&#8592; Before");
  }
  if (here->depth > 1) {
    to = *here;
    to.depth--;
    add_link(at, "data-key=\"ArrowUp\"", &to, "&#8593; Back up");
  }
  if (here->depth && below && here->depth < DEPTH) {
    to = *here;
    to.at[to.depth++] = 1;
    add_link(at, "data-key=\"ArrowDown\"", &to, "&#8595; Go into it");
  }
  if (!here->depth && siblings) {
    to = (way){.at = {1}, .depth = 1};
    add_link(at, "data-key=\"ArrowRight\" rel=\"next\"", &to, "First reason &#8594;");
  } else if (here->depth && here->at[here->depth - 1] < siblings) {
    to = *here;
    to.at[to.depth - 1]++;
    add_link(at, "data-key=\"ArrowRight\" rel=\"next\"", &to, "Next &#8594;");
  }
  why_bytes_text(at->out, "</nav>\n");
}

static void add_below(const lesson* at, const way* here, const json_t* step) {
  const json_t* list = list_below(step);
  if (!json_array_size(list))
    return;
  why_bytes_print(
      at->out, "<details class=\"reveal\"><summary>What does it rest on? (%zu)</summary>\n<ol>\n",
      json_array_size(list));
  size_t index;
  json_t* each;
  json_array_foreach(list, index, each) {
    way to = *here;
    why_bytes_text(at->out, "<li>");
    if (json_array_size(list_below(each)) && here->depth < DEPTH) {
      to.at[to.depth++] = index + 1;
      why_bytes_text(at->out, "<a href=\"");
      add_target(at, at->exercise, &to, at->hidden);
      why_bytes_text(at->out, "\">");
    }
    why_bytes_markup(at->out, why_listed_text(each, "say"));
    why_bytes_text(at->out, to.depth > here->depth ? "</a>" : "");
    if (*why_listed_text(each, "from")) {
      why_bytes_text(at->out, " <small>");
      why_bytes_markup(at->out, why_listed_text(each, "from"));
      why_bytes_text(at->out, "</small>");
    }
    why_bytes_text(at->out, "</li>\n");
  }
  why_bytes_text(at->out, "</ol>\n</details>\n");
}

/// A step that a rule or a study made can be tried without it: "rule ID, grounds" and
/// "evidence/studies/ID.xml:LINE" name them.
static void add_without(const lesson* at, const char* from) {
  static const char RULE[] = "rule ";
  static const char STUDY[] = "evidence/studies/";
  bool rule = strncmp(from, RULE, sizeof RULE - 1) == 0;
  if (!rule && strncmp(from, STUDY, sizeof STUDY - 1) != 0)
    return;
  const char* id = from + (rule ? sizeof RULE : sizeof STUDY) - 1;
  size_t length = strspn(id, "abcdefghijklmnopqrstuvwxyz0123456789-");
  why_bytes_text(at->out, "<p class=\"from\"><a href=\"/without?goal=");
  why_bytes_address(at->out, at->goal);
  why_bytes_text(at->out, "&amp;leave-out=");
  why_bytes_add(at->out, id, length);
  why_address_carry(at->address, WHY_PERSON, at->out);
  why_bytes_print(at->out, "\">What if this %s were not there?</a></p>\n", rule ? "rule" : "study");
}

static void add_statement(const lesson* at, const json_t* step) {
  why_bytes_text(at->out, "<p class=\"said\">");
  why_bytes_markup(at->out, why_listed_text(step, "say"));
  why_bytes_text(at->out, "</p>\n");
  if (*why_listed_text(step, "from")) {
    why_bytes_text(at->out, "<p class=\"from\">From: ");
    why_bytes_markup(at->out, why_listed_text(step, "from"));
    why_bytes_text(at->out, "</p>\n");
    add_without(at, why_listed_text(step, "from"));
  }
}

static void add_step(const lesson* at, const way* here, const json_t* step, const json_t* parent,
                     size_t siblings) {
  why_bytes_print(at->out, "<p class=\"place\">%s %zu of %zu</p>\n",
                  here->depth == 1 ? "Reason" : "Ground", here->at[here->depth - 1], siblings);
  if (parent) {
    why_bytes_text(at->out, "<p class=\"of\">For: ");
    why_bytes_markup(at->out, why_listed_text(parent, "say"));
    why_bytes_text(at->out, "</p>\n");
  }
  if (at->hidden)
    why_bytes_text(at->out, "<details class=\"reveal whole\"><summary>Say what comes next, then "
                            "show it</summary>\n");
  add_statement(at, step);
  if (at->hidden)
    why_bytes_text(at->out, "</details>\n");
  add_below(at, here, step);
}

static void add_verdict(const lesson* at, const json_t* answer) {
  why_bytes_text(at->out, "<p class=\"given\">Predict first: yes or no, and by which joint?</p>\n"
                          "<details class=\"reveal\"><summary>Show the verdict</summary>\n"
                          "<p class=\"said\">");
  why_bytes_markup(at->out, why_listed_text(answer, "verdict"));
  why_bytes_text(at->out, "</p>\n</details>\n");
}

static void add_foot(const lesson* at, const way* here) {
  why_bytes_text(at->out, "<p class=\"foot\">");
  why_bytes_text(at->out, "<a href=\"");
  add_target(at, at->exercise, here, !at->hidden);
  why_bytes_print(at->out, "\">%s</a>\n",
                  at->hidden ? "Show steps at once" : "Hide steps until asked");
  why_bytes_text(at->out, "<a href=\"");
  add_target(at, NULL, NULL, false);
  why_bytes_text(at->out, "\">Guess among exercises</a>\n<a href=\"/why?exercise=");
  why_bytes_address(at->out, at->exercise);
  why_bytes_text(at->out, "&amp;goal=");
  why_bytes_address(at->out, at->goal);
  why_address_carry(at->address, WHY_PERSON, at->out);
  why_bytes_text(at->out, "\">The handout, to print</a>\n"
                          "<span class=\"hint\">Keys: arrows to step, space to show.</span></p>\n");
}

static void add_chain(lesson* at, const json_t* answer) {
  const json_t* siblings;
  const json_t* parent;
  way here = read_way(why_address_value(at->address, "at"));
  const json_t* step = follow(json_object_get(answer, "chain"), &here, &siblings, &parent);
  at->exercise = why_listed_text(answer, "exercise");
  why_bytes_text(at->out, "<h1>Does ");
  why_bytes_markup(at->out, exercise_name(at->site, at->exercise));
  why_bytes_text(at->out, " train ");
  why_bytes_markup(at->out, goal_name(at->site, answer));
  why_bytes_text(at->out, "?</h1>\n");
  add_place(at, answer);
  if (step)
    add_step(at, &here, step, parent, json_array_size(siblings));
  else
    add_verdict(at, answer);
  add_keys(at, &here, json_array_size(siblings), json_array_size(list_below(step)));
  add_foot(at, &here);
}

static int by_name(const void* a, const void* b) {
  const json_t* const* one = a;
  const json_t* const* other = b;
  return strcasecmp(why_listed_text(*one, "name"), why_listed_text(*other, "name"));
}

/// Some picks and some that are none, in the order of their names, which gives nothing away.
static void add_guesses(const lesson* at, const json_t* answer) {
  const json_t* picks = json_object_get(answer, "picks");
  const json_t* against = json_object_get(answer, "against");
  const json_t* rows[GUESSES];
  size_t count = 0;
  for (size_t i = 0; i < json_array_size(picks) && count < GUESSED_PICKS; i++)
    rows[count++] = json_array_get(picks, i);
  for (size_t i = 0; i < json_array_size(against) && count < GUESSES; i++)
    rows[count++] = json_array_get(against, i);
  qsort(rows, count, sizeof *rows, by_name);
  why_bytes_text(at->out, "<ul class=\"guesses\">\n");
  for (size_t i = 0; i < count; i++) {
    why_bytes_print(at->out, "<li><span class=\"letter\">%c</span> <span>", (char)('A' + (int)i));
    why_bytes_markup(at->out, why_listed_text(rows[i], "name"));
    why_bytes_text(at->out, "</span></li>\n");
  }
  why_bytes_text(at->out, "</ul>\n");
}

static void add_reasons(const lesson* at, const json_t* row) {
  const json_t* reasons = json_object_get(row, "reasons");
  for (size_t i = 0; i < json_array_size(reasons) && i < REASONS_SHOWN; i++) {
    why_bytes_text(at->out, "<br/><span>");
    why_bytes_markup(at->out, why_listed_text(json_array_get(reasons, i), "say"));
    why_bytes_text(at->out, "</span>");
  }
}

/// Each row with its first reasons, leading to its chain.
static void add_rows(const lesson* at, const json_t* rows, size_t most, const char* list) {
  why_bytes_print(at->out, "<%s>\n", list);
  for (size_t i = 0; i < json_array_size(rows) && i < most; i++) {
    const json_t* row = json_array_get(rows, i);
    why_bytes_text(at->out, "<li><a href=\"");
    add_target(at, why_listed_text(row, "exercise"), NULL, at->hidden);
    why_bytes_text(at->out, "\">");
    why_bytes_markup(at->out, why_listed_text(row, "name"));
    why_bytes_text(at->out, "</a> <small>");
    why_bytes_markup(at->out, why_listed_text(row, "recommendation"));
    why_bytes_text(at->out, "</small>");
    add_reasons(at, row);
    why_bytes_text(at->out, "</li>\n");
  }
  why_bytes_print(at->out, "</%s>\n", list);
}

static void add_guess(const lesson* at, const json_t* answer) {
  why_bytes_text(at->out, "<h1>Which of these train ");
  why_bytes_markup(at->out, goal_name(at->site, answer));
  why_bytes_text(at->out, " best? Predict first.</h1>\n");
  add_place(at, answer);
  add_guesses(at, answer);
  const json_t* against = json_object_get(answer, "against");
  why_bytes_text(at->out, "<details class=\"reveal\"><summary>Show the order</summary>\n");
  add_rows(at, json_object_get(answer, "picks"), GUESSED_PICKS, "ol");
  if (json_array_size(against)) {
    why_bytes_text(at->out, "<p class=\"given\">Not for this goal, though often expected:</p>\n");
    add_rows(at, against, GUESSES - GUESSED_PICKS, "ul");
  }
  why_bytes_text(at->out, "</details>\n");
}

static void add_form(const lesson* at) {
  why_bytes_text(at->out, "<form class=\"lesson\" method=\"get\" action=\"/class\" "
                          "data-kit=\"kit\">\n<h1>A lesson</h1>\n"
                          "<p>Choose a goal for a guess among exercises; with an exercise, its "
                          "chain of reasons, one step at a time.</p>\n");
  why_field_goal(at->site, at->address, "goal", "Goal", at->out);
  why_field_exercise(at->site, at->address, "exercise", "Exercise (may stay empty)", false,
                     at->out);
  why_field_place(at->site, at->address, at->out);
  why_bytes_text(at->out, "<button type=\"submit\">Begin</button>\n</form>\n");
}

/// What a lesson says to the query; the rest of its address is about the page.
static bool is_said(const char* name) {
  for (const char* const* each = WHY_PERSON; *each; each++)
    if (strcmp(*each, name) == 0)
      return true;
  return strcmp(name, "goal") == 0 || strcmp(name, "exercise") == 0;
}

static void ask(lesson* at, why_asking* asking) {
  why_asking_init(asking, at->site->knowledge);
  why_asking_task_set(asking, at->exercise ? "why" : "pick");
  for (size_t i = 0; i < at->address->count; i++)
    if (is_said(at->address->pairs[i].name))
      why_asking_say(asking, at->address->pairs[i].name, at->address->pairs[i].value);
}

static void add_lesson(lesson* at, const why_asking* asking) {
  why_bytes told = {0};
  why_status status = why_tell(asking->answer, "json", why_bytes_sink, &told);
  json_t* answer = status == WHY_OK ? json_loadb(told.at, told.length, 0, NULL) : NULL;
  if (!answer)
    at->out->failed = true;
  else if (at->exercise)
    add_chain(at, answer);
  else
    add_guess(at, answer);
  json_decref(answer);
  why_bytes_free(&told);
}

void why_class_page(const why_site* site, const why_address* address, why_reply* reply) {
  lesson at = {.site = site,
               .address = address,
               .out = &reply->body,
               .goal = why_address_value(address, "goal"),
               .exercise = why_address_value(address, "exercise"),
               .hidden = why_address_says(address, "hide", "yes")};
  why_page_open(at.out, "A lesson", "/class", "class");
  if (at.goal) {
    why_asking asking;
    ask(&at, &asking);
    if (why_asking_run(&asking) > WHY_NO_PICK)
      reply->status = asking.status == WHY_QUESTION ? WHY_REPLY_WRONG : WHY_REPLY_MACHINE;
    why_page_problems(&asking, at.out);
    if (asking.answer)
      add_lesson(&at, &asking);
    else
      add_form(&at);
    why_asking_clear(&asking);
  } else {
    add_form(&at);
  }
  why_page_close(at.out);
}
