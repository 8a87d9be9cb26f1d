// SPDX-License-Identifier: GPL-3.0-or-later
// Fields show what the address says, so that a page can be changed from where it stands.
#include "page.h"

#include <string.h>

const char* const WHY_PERSON[] = {"have", "without", "avoid", "level", NULL};

static void add_value(const why_address* address, const char* name, why_bytes* out) {
  const char* value = why_address_value(address, name);
  why_bytes_text(out, " value=\"");
  why_bytes_markup(out, value ? value : "");
  why_bytes_text(out, "\"");
}

/// A line to type in, with names to choose from.
static void add_named(const why_address* address, const char* name, const char* label,
                      const why_bytes* options, bool needed, why_bytes* out) {
  why_bytes_print(out, "<label>%s\n<input type=\"text\" name=\"%s\" list=\"%s-names\"", label, name,
                  name);
  why_bytes_text(out, needed ? " required=\"required\"" : "");
  why_bytes_text(out, " autocomplete=\"off\" maxlength=\"200\"");
  add_value(address, name, out);
  why_bytes_print(out, "/></label>\n<datalist id=\"%s-names\">\n", name);
  why_bytes_add(out, why_bytes_of(options), options->length);
  why_bytes_text(out, "</datalist>\n");
}

void why_field_goal(const why_site* site, const why_address* address, const char* name,
                    const char* label, why_bytes* out) {
  add_named(address, name, label, &site->goals, true, out);
}

void why_field_exercise(const why_site* site, const why_address* address, const char* name,
                        const char* label, bool needed, why_bytes* out) {
  add_named(address, name, label, &site->exercises, needed, out);
}

void why_field_part(const why_site* site, const why_address* address, why_bytes* out) {
  add_named(address, "leave-out", "Study, rule or exercise (its id)", &site->parts, true, out);
}

void why_field_place(const why_site* site, const why_address* address, why_bytes* out) {
  why_bytes_text(out, "<label>Place\n<select name=\"have\" id=\"place\">\n"
                      "<option value=\"\">what is ticked, else a full gym</option>\n");
  size_t index;
  json_t* row;
  json_array_foreach(site->choices.places, index, row) {
    const char* id = why_listed_text(row, "id");
    why_bytes_print(out, "<option value=\"%s\"%s>", id,
                    why_address_says(address, "have", id) ? " selected=\"selected\"" : "");
    why_bytes_markup(out, why_listed_text(row, "name"));
    why_bytes_text(out, "</option>\n");
  }
  why_bytes_text(out, "</select></label>\n");
}

/// Kinds of things to tick, in the order in which they are shown.
typedef struct {
  const char* kind;
  const char* title;
} heading;

static const heading EQUIPMENT[] = {{"free-weight", "Free weights"},
                                    {"support", "To sit, lie, hang or stand on"},
                                    {"elastic", "Bands"},
                                    {"machine", "Machines"},
                                    {"cable", "Cables"},
                                    {"improvised", "What is found anywhere"},
                                    {NULL, NULL}};
static const heading RESTRICTIONS[] = {{"complaint", "What hurts"},
                                       {"demand", "What the body should not have to do"},
                                       {"situation", "Situations"},
                                       {"danger", "Signs of danger: no picks, but a referral"},
                                       {NULL, NULL}};

static void add_ticks(const why_address* address, const char* name, const json_t* rows,
                      const heading* of, why_bytes* out) {
  why_bytes_print(out, "<fieldset><legend>%s</legend>\n", of->title);
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) {
    if (strcmp(why_listed_text(row, "more"), of->kind) != 0)
      continue;
    const char* id = why_listed_text(row, "id");
    why_bytes_text(out, "<label><input type=\"checkbox\" name=\"");
    why_bytes_text(out, name);
    why_bytes_text(out, "\" value=\"");
    why_bytes_text(out, id);
    why_bytes_text(out,
                   why_address_says(address, name, id) ? "\" checked=\"checked\"/> " : "\"/> ");
    why_bytes_markup(out, why_listed_text(row, "name"));
    why_bytes_text(out, "</label>\n");
  }
  why_bytes_text(out, "</fieldset>\n");
}

static bool is_listed(const json_t* rows, const char* id) {
  size_t index;
  json_t* row;
  json_array_foreach(rows, index, row) if (strcmp(why_listed_text(row, "id"), id) == 0) return true;
  return false;
}

static size_t count_said(const why_address* address, const char* name, const json_t* rows) {
  size_t count = 0;
  for (size_t i = 0; i < address->count; i++)
    count += strcmp(address->pairs[i].name, name) == 0 && is_listed(rows, address->pairs[i].value);
  return count;
}

/// A fold of ticks; how many are set stands in its title.
static void add_fold(const why_address* address, const char* name, const json_t* rows,
                     const heading* of, const char* title, why_bytes* out) {
  size_t count = count_said(address, name, rows);
  why_bytes_print(out, "<details class=\"ticks\" id=\"%s-ticks\"><summary>%s <span>", name, title);
  if (count)
    why_bytes_print(out, "(%zu ticked)", count);
  why_bytes_text(out, "</span></summary>\n");
  for (; of->kind; of++)
    add_ticks(address, name, rows, of, out);
  why_bytes_text(out, "</details>\n");
}

/// Things at hand that stand in no list of ids: with a limit, in other words.
static void add_other(const why_site* site, const why_address* address, why_bytes* out) {
  why_bytes_text(out, "<label>Also at hand, in words\n"
                      "<input type=\"text\" name=\"have\" id=\"also\" autocomplete=\"off\" "
                      "maxlength=\"400\" placeholder=\"such as dumbbells:15kg\" value=\"");
  const char* lead = "";
  for (size_t i = 0; i < address->count; i++) {
    const why_pair* pair = &address->pairs[i];
    if (strcmp(pair->name, "have") != 0 || is_listed(site->choices.equipment, pair->value) ||
        is_listed(site->choices.places, pair->value))
      continue;
    why_bytes_text(out, lead);
    why_bytes_markup(out, pair->value);
    lead = ", ";
  }
  why_bytes_text(out, "\"/></label>\n");
}

void why_field_text(const why_address* address, const char* name, const char* label,
                    const char* example, why_bytes* out) {
  why_bytes_print(out,
                  "<label>%s\n<input type=\"text\" name=\"%s\" maxlength=\"400\" "
                  "autocomplete=\"off\" placeholder=\"%s\"",
                  label, name, example);
  add_value(address, name, out);
  why_bytes_text(out, "/></label>\n");
}

void why_field_number(const why_address* address, const char* name, const char* label, int least,
                      int most, int usual, why_bytes* out) {
  const char* value = why_address_value(address, name);
  why_bytes_print(out,
                  "<label>%s\n<input type=\"number\" name=\"%s\" min=\"%d\" max=\"%d\" "
                  "step=\"any\" value=\"",
                  label, name, least, most);
  if (value)
    why_bytes_markup(out, value);
  else
    why_bytes_print(out, "%d", usual);
  why_bytes_text(out, "\"/></label>\n");
}

void why_field_select(const why_address* address, const char* name, const char* label,
                      const char* const* values, const char* const* words, const char* usual,
                      why_bytes* out) {
  const char* said = why_address_value(address, name);
  why_bytes_print(out, "<label>%s\n<select name=\"%s\">\n", label, name);
  for (size_t i = 0; words[i]; i++)
    why_bytes_print(out, "<option value=\"%s\"%s>%s</option>\n", values[i],
                    strcmp(values[i], said ? said : usual) == 0 ? " selected=\"selected\"" : "",
                    words[i]);
  why_bytes_text(out, "</select></label>\n");
}

void why_fields_person(const why_site* site, const why_address* address, bool many,
                       why_bytes* out) {
  static const char* const LEVELS[] = {"", "beginner", "intermediate", "advanced", NULL};
  static const char* const LEVEL_WORDS[] = {"any", "beginner", "intermediate", "advanced", NULL};
  static const char* const TOPS[] = {"", "10", "20", "all", NULL};
  static const char* const TOP_WORDS[] = {"5 picks", "10 picks", "20 picks", "all picks", NULL};
  why_field_place(site, address, out);
  add_fold(address, "have", site->choices.equipment, EQUIPMENT, "Equipment", out);
  add_other(site, address, out);
  add_fold(address, "avoid", site->choices.restrictions, RESTRICTIONS, "To avoid", out);
  why_bytes_text(out, "<div class=\"pair\">\n");
  why_field_select(address, "level", "Level", LEVELS, LEVEL_WORDS, "", out);
  if (many)
    why_field_select(address, "top", "Show", TOPS, TOP_WORDS, "", out);
  why_bytes_text(out, "</div>\n");
}
