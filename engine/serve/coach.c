// SPDX-License-Identifier: GPL-3.0-or-later
// A form beside its answer. Every state of it is an address.
#include "page.h"

#include <stdio.h>
#include <string.h>

/// What a page asks for, above who asks and where.
typedef enum {
  ASKS_GOAL,
  ASKS_REPLACED,
  ASKS_BOTH,
  ASKS_TWO,
  ASKS_SENTENCE,
  ASKS_SUBJECT,
  ASKS_EXERCISE,
  ASKS_KIND,
  ASKS_WEEK,
  ASKS_PROGRAMME, ///< This and the next are pasted.
  ASKS_ABSTRACT
} asks;

typedef struct {
  const char* task;
  const char* path;
  const char* title;
  const char* lead;
  asks asks;
  bool person; ///< Who asks and where matters.
  const char* button;
} sheet;

static const sheet SHEETS[] = {
    {"pick", "/pick", "Exercises for a goal",
     "A muscle, a group, a head or an action, by any name.", ASKS_GOAL, true, "Pick exercises"},
    {"swap", "/swap", "Swap an exercise", "What replaces it with what is here, and what is lost.",
     ASKS_REPLACED, true, "Find replacements"},
    {"why", "/why", "Why, or why not", "The whole chain of reasons, down to its sources.",
     ASKS_BOTH, true, "Show the reasons"},
    {"compare", "/compare", "Compare two exercises",
     "Which of them grows a goal more, and how certain that is.", ASKS_TWO, true, "Compare them"},
    {"ask", "/ask", "Ask in plain words",
     "Goal, what is at hand or missing, what hurts: one sentence will do.", ASKS_SENTENCE, false,
     "Ask"},
    {"pool", "/pool", "What trials found", "Growth measured in trials, pooled over studies.",
     ASKS_SUBJECT, false, "Pool the trials"},
    {"moments", "/moments", "Moments and forces", "What the muscles must give, joint by joint.",
     ASKS_EXERCISE, false, "Show the moments"},
    {"audit", "/audit", "Audit a programme", "Weekly sets of a programme, as people write it.",
     ASKS_PROGRAMME, false, "Count the sets"},
    {"plan", "/plan", "Plan a week", "Sessions that hold the weekly sets of every large muscle.",
     ASKS_WEEK, true, "Plan the week"},
    {"draft", "/draft", "Draft a study",
     "The abstract of a growth trial becomes the file of a study, for a person to confirm. "
     "Nothing is stored here.",
     ASKS_ABSTRACT, false, "Draft it"},
    {"list", "/list", "Names that can be used", "Kinds of names, or the names of one kind.",
     ASKS_KIND, false, "List them"},
};

/// Bytes of what an address says that people still send each other.
enum { SHARED_LIMIT = 2000 };

static const sheet* find_sheet(const char* task) {
  for (size_t i = 0; i < sizeof SHEETS / sizeof *SHEETS; i++)
    if (strcmp(SHEETS[i].task, task) == 0)
      return &SHEETS[i];
  return &SHEETS[0];
}

bool why_coach_is_pasted(const char* task) {
  return find_sheet(task)->asks >= ASKS_PROGRAMME;
}

static void add_sentence(const why_address* address, const char* label, why_bytes* out) {
  const char* value = why_address_value(address, "sentence");
  why_bytes_print(out,
                  "<label>%s\n<input type=\"text\" name=\"sentence\" required=\"required\" "
                  "maxlength=\"1000\" autocomplete=\"off\" placeholder=\"such as: hamstrings with "
                  "two dumbbells, bad knee\" value=\"",
                  label);
  why_bytes_markup(out, value ? value : "");
  why_bytes_text(out, "\"/></label>\n");
}

static void add_kind(const why_address* address, why_bytes* out) {
  const char* value = why_address_value(address, "kind");
  why_bytes_text(out, "<label>Kind\n<input type=\"text\" name=\"kind\" maxlength=\"60\" value=\"");
  why_bytes_markup(out, value ? value : "");
  why_bytes_text(out, "\"/></label>\n");
}

/// What is pasted can be long; percent-encoded it must fit into one body.
static void add_pasted(const why_address* address, const char* name, const char* label,
                       const char* example, why_bytes* out) {
  const char* value = why_address_value(address, name);
  why_bytes_print(out,
                  "<label>%s\n<textarea name=\"%s\" rows=\"10\" maxlength=\"%d\" "
                  "required=\"required\" placeholder=\"%s\">\n",
                  label, name, WHY_LINE_LIMIT / 3, example);
  why_bytes_markup(out, value ? value : "");
  why_bytes_text(out, "</textarea></label>\n");
}

/// Goals, days, minutes, purpose, first day.
static void add_week(const why_address* address, why_bytes* out) {
  static const char* const DAYS[] = {"1", "2", "3", "4", "5", "6", NULL};
  static const char* const PURPOSES[] = {"grow", "keep", NULL};
  static const char* const PURPOSE_WORDS[] = {"to grow", "to keep what is there", NULL};
  why_field_text(address, "target", "Goals to put first (may stay empty)",
                 "such as: glutes:2, calves", out);
  why_bytes_text(out, "<div class=\"pair\">\n");
  why_field_select(address, "days", "Sessions a week", DAYS, DAYS, "3", out);
  why_field_number(address, "minutes", "Minutes each", 10, 240, 60, out);
  why_bytes_text(out, "</div>\n");
  why_field_select(address, "purpose", "Purpose", PURPOSES, PURPOSE_WORDS, "grow", out);
  why_field_text(address, "start", "First day, for a calendar (may stay empty)",
                 "such as: 2026-01-05", out);
}

static void add_question(const why_site* site, const why_address* address, const sheet* at,
                         why_bytes* out) {
  switch (at->asks) {
  case ASKS_GOAL:
    why_field_goal(site, address, "goal", "Goal", out);
    break;
  case ASKS_REPLACED:
    why_field_exercise(site, address, "replaced", "Exercise to replace", true, out);
    break;
  case ASKS_BOTH:
    why_field_exercise(site, address, "exercise", "Exercise", true, out);
    why_field_goal(site, address, "goal", "Goal", out);
    break;
  case ASKS_TWO:
    why_field_exercise(site, address, "exercise", "Exercise", true, out);
    why_field_exercise(site, address, "other", "Compared with", true, out);
    why_field_goal(site, address, "goal", "Goal", out);
    break;
  case ASKS_SENTENCE:
    add_sentence(address, "Your question", out);
    break;
  case ASKS_SUBJECT:
    why_field_goal(site, address, "subject", "Goal or exercise", out);
    break;
  case ASKS_EXERCISE:
    why_field_exercise(site, address, "exercise", "Exercise", true, out);
    break;
  case ASKS_WEEK:
    add_week(address, out);
    break;
  case ASKS_PROGRAMME:
    add_pasted(address, "programme", "Programme, a day a line", "Mon: RDL 3x8, leg ext 4x12", out);
    break;
  case ASKS_ABSTRACT:
    add_pasted(address, "text", "Abstract, as it stands in the paper",
               "Methods: Fourteen participants ...", out);
    break;
  case ASKS_KIND:
    add_kind(address, out);
    break;
  }
}

static void add_form(const why_site* site, const why_address* address, const sheet* at,
                     bool answered, why_bytes* out) {
  why_bytes_print(out, "<details class=\"question\"%s><summary>%s</summary>\n",
                  answered ? "" : " open=\"open\"", answered ? "Change the question" : at->title);
  why_bytes_print(out, "<form method=\"%s\" action=\"%s\"%s>\n<p>%s</p>\n",
                  at->asks >= ASKS_PROGRAMME ? "post" : "get", at->path,
                  at->person ? " data-kit=\"kit\"" : "", at->lead);
  add_question(site, address, at, out);
  if (at->person)
    why_fields_person(site, address, at->asks != ASKS_WEEK, out);
  why_bytes_print(out, "<button type=\"submit\">%s</button>\n</form>\n</details>\n", at->button);
}

void why_page_problems(const why_asking* asking, why_bytes* out) {
  json_t* problems = why_asking_problems(asking);
  if (!problems)
    out->failed = true;
  if (json_array_size(problems))
    why_bytes_text(out, "<ul class=\"problems\">\n");
  size_t index;
  json_t* row;
  json_array_foreach(problems, index, row) {
    why_bytes_text(out, "<li><strong>");
    why_bytes_markup(out, why_listed_text(row, "text"));
    why_bytes_text(out, "</strong>");
    if (*why_listed_text(row, "hint")) {
      why_bytes_text(out, "<br/>");
      why_bytes_markup(out, why_listed_text(row, "hint"));
    }
    why_bytes_text(out, "</li>\n");
  }
  if (json_array_size(problems))
    why_bytes_text(out, "</ul>\n");
  json_decref(problems);
}

/// A way on from an exercise in the answer; `goal` NULL where none is known.
static void add_way(const why_address* address, const char* path, const char* name,
                    const char* exercise, size_t length, const char* goal, const char* words,
                    why_bytes* out) {
  why_bytes_print(out, "<a href=\"%s?%s=", path, name);
  why_bytes_add(out, exercise, length); // an id: letters, digits and hyphens
  if (goal) {
    why_bytes_text(out, "&amp;goal=");
    why_bytes_address(out, goal);
  }
  why_address_carry(address, WHY_PERSON, out);
  why_bytes_print(out, "\">%s</a>\n", words);
}

static void add_ways(const why_address* address, const char* exercise, size_t length,
                     const char* goal, why_bytes* out) {
  why_bytes_text(out, "<p class=\"ways\">");
  if (goal)
    add_way(address, "/why", "exercise", exercise, length, goal, "Every reason", out);
  add_way(address, "/swap", "replaced", exercise, length, NULL, "Swap it", out);
  add_way(address, "/moments", "exercise", exercise, length, NULL, "Forces", out);
  if (goal)
    add_way(address, "/class", "exercise", exercise, length, goal, "To the class", out);
  why_bytes_text(out, "</p>\n");
}

static bool is_id(const char* text, size_t length) {
  return length && strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-") == length;
}

/// The answer as html-part, with ways on under the name of every entry. Texts of the answer hold no
/// "<", so the mark of an entry cannot come from them.
static void add_linked(const why_address* address, const why_bytes* part, const char* goal,
                       why_bytes* out) {
  static const char MARK[] = "<li data-id=\"";
  static const char GRADE[] = "<p class=\"mark\">";
  const char* rest = why_bytes_of(part);
  for (const char* at; (at = strstr(rest, MARK));) {
    const char* id = at + sizeof MARK - 1;
    size_t length = strcspn(id, "\"");
    const char* name = strstr(id, "</h3>\n");
    if (!name)
      break;
    const char* end = name + strlen("</h3>\n");
    const char* grade = strncmp(end, GRADE, sizeof GRADE - 1) == 0 ? strstr(end, "</p>\n") : NULL;
    end = grade ? grade + strlen("</p>\n") : end;
    why_bytes_add(out, rest, (size_t)(end - rest));
    if (is_id(id, length))
      add_ways(address, id, length, goal, out);
    rest = end;
  }
  why_bytes_text(out, rest);
}

/// A text that lasts as long as the address: "dumbbells:15kg" where `limits` has one for it.
static const char* with_limit(why_address* heard, size_t* used, const char* item,
                              const json_t* limits) {
  size_t index;
  json_t* each;
  json_array_foreach(limits, index, each) {
    size_t room = sizeof heard->text - *used;
    if (strcmp(why_listed_text(each, "item"), item) != 0)
      continue;
    char* made = heard->text + *used;
    int length =
        snprintf(made, room, "%s:%gkg", item, json_number_value(json_object_get(each, "kg")));
    if (length < 0 || (size_t)length >= room)
      return item;
    *used += (size_t)length + 1;
    return made;
  }
  return item;
}

static void hear_list(why_address* heard, size_t* used, const char* name,
                      const json_t* understood) {
  size_t index;
  json_t* each;
  json_array_foreach(json_object_get(understood, name), index, each) {
    if (heard->count < WHY_PAIRS_LIMIT && json_is_string(each))
      heard->pairs[heard->count++] =
          (why_pair){name, with_limit(heard, used, json_string_value(each),
                                      json_object_get(understood, "limits"))};
  }
}

/// What a sentence was understood to say, as an address would say it, so that it can be carried on.
/// The texts belong to the answer that is returned; NULL without memory.
static json_t* hear(const why_asking* asking, why_address* heard, const char** goal) {
  why_bytes told = {0};
  json_t* read = NULL;
  if (why_tell(asking->answer, "json", why_bytes_sink, &told) == WHY_OK)
    read = json_loadb(told.at, told.length, 0, NULL);
  why_bytes_free(&told);
  const json_t* understood = json_object_get(read, "understood");
  size_t used = 0;
  heard->count = 0;
  hear_list(heard, &used, "have", understood);
  hear_list(heard, &used, "without", understood);
  hear_list(heard, &used, "avoid", understood);
  const char* level = json_string_value(json_object_get(understood, "level"));
  if (level && heard->count < WHY_PAIRS_LIMIT)
    heard->pairs[heard->count++] = (why_pair){"level", level};
  *goal = json_is_string(json_object_get(understood, "replaced"))
              ? NULL
              : json_string_value(json_object_get(understood, "goal"));
  return read;
}

/// Ways on from what was understood, or from what the address says.
static void add_part(const why_address* address, const sheet* at, const why_asking* asking,
                     const why_bytes* part, why_bytes* out) {
  if (at->asks != ASKS_SENTENCE) {
    add_linked(address, part, why_address_value(address, "goal"), out);
    return;
  }
  why_address heard;
  const char* goal = NULL;
  json_t* read = hear(asking, &heard, &goal);
  add_linked(&heard, part, goal, out);
  json_decref(read);
}

/// All that can be said.
static const char* const ALL[] = {
    "goal",      "exercise", "other",  "replaced", "subject", "sentence", "kind",
    "programme", "text",     "target", "days",     "minutes", "purpose",  "start",
    "have",      "without",  "avoid",  "level",    "top",     "dose",     NULL};

typedef struct {
  const char* format;
  const char* words;
} shape;

/// The shapes that this answer has; the last has no name.
static const shape* shapes_of(const why_address* address, const sheet* at) {
  static const shape USUAL[] = {
      {"html", "Save as one file"}, {"json", "JSON"}, {"svg", "Pictures (SVG)"}, {NULL, NULL}};
  static const shape DATED[] = {{"html", "Save as one file"},
                                {"json", "JSON"},
                                {"svg", "Pictures (SVG)"},
                                {"ical", "Calendar"},
                                {NULL, NULL}};
  static const shape WORDS[] = {{"html", "Save as one file"}, {"json", "JSON"}, {NULL, NULL}};
  static const shape DRAFT[] = {{"xml", "The file of the study (XML)"},
                                {"csv", "The numbers (CSV)"},
                                {"json", "JSON"},
                                {NULL, NULL}};
  return at->asks == ASKS_ABSTRACT                                      ? DRAFT
         : at->asks == ASKS_KIND                                        ? WORDS
         : at->asks == ASKS_WEEK && why_address_value(address, "start") ? DATED
                                                                        : USUAL;
}

/// Buttons that send what was pasted once more, to come back in another shape.
static void add_shape_buttons(const why_address* address, const sheet* at, why_bytes* out) {
  why_bytes_print(out, "<form class=\"shapes\" method=\"post\" action=\"%s\">\n", at->path);
  for (const char* const* name = ALL; *name; name++) {
    const char* value = why_address_value(address, *name);
    if (!value)
      continue;
    why_bytes_print(out, "<input type=\"hidden\" name=\"%s\" value=\"", *name);
    why_bytes_markup(out, value);
    why_bytes_text(out, "\"/>\n");
  }
  for (const shape* each = shapes_of(address, at); each->format; each++)
    why_bytes_print(out, "<button name=\"format\" value=\"%s\">%s</button>\n", each->format,
                    each->words);
  why_bytes_text(out, "</form>\n");
}

/// The same answer in other shapes, and of a small paste the address under which it is found again.
static void add_shapes(const why_address* address, const sheet* at, why_bytes* out) {
  why_bytes said = {0};
  why_address_carry(address, ALL, &said);
  if (said.length > SHARED_LIMIT) {
    add_shape_buttons(address, at, out);
  } else {
    why_bytes_text(out, "<p class=\"shapes\">Print this page for a handout.\n");
    if (why_coach_is_pasted(at->task) && said.length)
      why_bytes_print(out, "<a href=\"%s?%s\">Address of this view</a>\n", at->path,
                      why_bytes_of(&said) + strlen("&amp;"));
    for (const shape* each = shapes_of(address, at); each->format; each++)
      why_bytes_print(out, "<a href=\"%s?format=%s%s\">%s</a>\n", at->path, each->format,
                      why_bytes_of(&said), each->words);
    why_bytes_text(out, "</p>\n");
  }
  out->failed |= said.failed;
  why_bytes_free(&said);
}

static void add_answer(const why_address* address, const sheet* at, const why_asking* asking,
                       why_bytes* out) {
  why_bytes part = {0};
  why_page_problems(asking, out);
  if (why_tell(asking->answer, "html-part", why_bytes_sink, &part) != WHY_OK)
    out->failed = true;
  why_bytes_text(out, "<article>\n");
  add_part(address, at, asking, &part, out);
  why_bytes_text(out, "</article>\n");
  add_shapes(address, at, out);
  why_bytes_free(&part);
}

void why_coach_page(const why_site* site, const why_address* address, const char* task,
                    why_asking* asking, why_bytes* out) {
  const sheet* at = find_sheet(task);
  bool answered = asking && asking->answer;
  why_page_open(out, at->title, at->path, answered ? "coach answered" : "coach");
  add_form(site, address, at, answered, out);
  why_bytes_text(out, "<section class=\"answer\">\n");
  if (answered)
    add_answer(address, at, asking, out);
  else if (asking)
    why_page_problems(asking, out);
  why_bytes_text(out, "</section>\n");
  why_page_close(out);
}

void why_start_page(const why_site* site, const why_address* address, why_bytes* out) {
  why_page_open(out, "Whylift", "/", "coach start");
  why_bytes_text(out, "<section class=\"welcome\">\n<h1>Which exercise, for this muscle, with what "
                      "you have here, and why?</h1>\n"
                      "<form method=\"get\" action=\"/ask\" class=\"ask\">\n");
  add_sentence(address, "Ask in plain words", out);
  why_bytes_text(out, "<button type=\"submit\">Ask</button>\n</form>\n</section>\n");
  add_form(site, address, find_sheet("pick"), false, out);
  why_page_close(out);
}
