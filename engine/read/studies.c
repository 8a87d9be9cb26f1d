// SPDX-License-Identifier: GPL-3.0-or-later
// Reads growth trials. What a trial trained and how that maps to the catalogue is in trained.c.
#include "studies.h"

#include "evidence_reader.h"
#include "trained.h"

#include <math.h>
#include <string.h>

const why_study* why_study_find(const why_study_table* table, why_symbol id) {
  for (size_t i = 0; i < table->rows.count; i++)
    if (table->rows.at[i].id == id)
      return &table->rows.at[i];
  return NULL;
}

const why_arm* why_study_arm(const why_study* study, why_symbol id) {
  for (size_t i = 0; i < study->arms.count; i++)
    if (study->arms.at[i].id == id)
      return &study->arms.at[i];
  return NULL;
}

why_low_high why_low_high_read(why_reader* reader, const xmlNode* element, const char* attribute) {
  double ends[2] = {NAN, NAN};
  why_xml_numbers(reader, element, attribute, ends, 2);
  return (why_low_high){.low = ends[0], .high = ends[1]};
}

/// The texts of all children called `name`, joined by blanks.
static const char* all_texts(why_reader* reader, const xmlNode* element, const char* name) {
  why_buffer joined = {.arena = reader->arena};
  for (const xmlNode* n = why_xml_first(element, name); n; n = why_xml_next(n, name)) {
    if (joined.length)
      why_buffer_add(&joined, " ");
    why_buffer_add(&joined, why_xml_text(reader, n));
  }
  return why_buffer_text(&joined);
}

static why_reading read_reading(why_reader* reader, const xmlNode* element, const char* mean,
                                const char* sd, const char* se) {
  return (why_reading){.mean = why_xml_number(reader, element, mean, NAN),
                       .sd = why_xml_number(reader, element, sd, NAN),
                       .se = why_xml_number(reader, element, se, NAN)};
}

static why_result read_result(why_reader* reader, const xmlNode* e) {
  return (why_result){
      .arm = why_xml_symbol(reader, e, "arm"),
      .place = why_xml_place(reader, e),
      .muscle = why_xml_symbol(reader, e, "muscle"),
      .site = why_xml_symbol(reader, e, "site"),
      .side = why_xml_symbol(reader, e, "side"),
      .method = why_xml_symbol(reader, e, "method"),
      .unit = why_xml_symbol(reader, e, "unit"),
      .week = why_xml_number(reader, e, "week", NAN),
      .n = why_xml_number(reader, e, "n", NAN),
      .pre = read_reading(reader, e, "pre-mean", "pre-sd", "pre-se"),
      .post = read_reading(reader, e, "post-mean", "post-sd", "post-se"),
      .change = why_xml_number(reader, e, "change", NAN),
      .change_sd = why_xml_number(reader, e, "change-sd", NAN),
      .change_dispersion = why_xml_number(reader, e, "change-dispersion", NAN),
      .change_ci95 = why_low_high_read(reader, e, "change-ci95"),
      .change_pct = why_xml_number(reader, e, "change-pct", NAN),
      .change_pct_sd = why_xml_number(reader, e, "change-pct-sd", NAN),
      .change_pct_sd_from_p = why_xml_number(reader, e, "change-pct-sd-from-p", NAN),
      .change_pct_sd_at_most = why_xml_number(reader, e, "change-pct-sd-at-most", NAN),
      .change_pct_dispersion = why_xml_number(reader, e, "change-pct-dispersion", NAN),
      .change_pct_range = why_low_high_read(reader, e, "change-pct-range"),
      .effect_d = why_xml_number(reader, e, "effect-d", NAN),
      .p = why_p_read(reader, e),
      .basis = why_xml_symbols(reader, e, "basis"),
      .where = why_xml_child_text(reader, e, "where"),
      .doubt = all_texts(reader, e, "doubt"),
      .left_out = why_left_out_read(reader, e)};
}

static why_contrast read_contrast(why_reader* reader, const xmlNode* e) {
  return (why_contrast){.a = why_xml_symbol(reader, e, "a"),
                        .b = why_xml_symbol(reader, e, "b"),
                        .place = why_xml_place(reader, e),
                        .muscle = why_xml_symbol(reader, e, "muscle"),
                        .site = why_xml_symbol(reader, e, "site"),
                        .favours = why_xml_symbol(reader, e, "favours"),
                        .p = why_p_read(reader, e),
                        .p_of = why_xml_string(reader, e, "p-of"),
                        .effect = why_xml_number(reader, e, "effect", NAN),
                        .effect_kind = why_xml_string(reader, e, "effect-kind"),
                        .effect_text = why_xml_child_text(reader, e, "effect-text"),
                        .effect_se = why_xml_number(reader, e, "effect-se", NAN),
                        .effect_ci95 = why_low_high_read(reader, e, "effect-ci95"),
                        .effect_ci90 = why_low_high_read(reader, e, "effect-ci90"),
                        .difference_pct = why_xml_number(reader, e, "difference-pct", NAN),
                        .smd = why_xml_number(reader, e, "smd", NAN),
                        .smd_ci95 = why_low_high_read(reader, e, "smd-ci95"),
                        .smd_basis = why_xml_symbols(reader, e, "smd-basis"),
                        .basis = why_xml_symbols(reader, e, "basis"),
                        .where = why_xml_child_text(reader, e, "where"),
                        .note = all_texts(reader, e, "note"),
                        .doubt = all_texts(reader, e, "doubt"),
                        .left_out = why_left_out_read(reader, e)};
}

static why_within read_within(why_reader* reader, const xmlNode* e) {
  return (why_within){.arms = why_xml_symbols(reader, e, "arms"),
                      .place = why_xml_place(reader, e),
                      .kind = why_xml_symbol(reader, e, "kind"),
                      .muscle = why_xml_symbol(reader, e, "muscle"),
                      .site = why_xml_symbol(reader, e, "site"),
                      .says = why_xml_symbol(reader, e, "says"),
                      .p = why_p_read(reader, e),
                      .effect = why_xml_number(reader, e, "effect", NAN),
                      .effect_kind = why_xml_string(reader, e, "effect-kind"),
                      .effect_text = why_xml_child_text(reader, e, "effect-text"),
                      .basis = why_xml_symbols(reader, e, "basis"),
                      .statement = why_xml_child_text(reader, e, "statement")};
}

static why_overlap read_overlap(why_reader* reader, const xmlNode* e) {
  return (why_overlap){.study = why_xml_symbol(reader, e, "study"),
                       .place = why_xml_place(reader, e),
                       .people = why_xml_symbol(reader, e, "people"),
                       .keep_other = strcmp(why_xml_string(reader, e, "keep"), "other") == 0,
                       .text = why_xml_text(reader, e)};
}

static void read_bias(why_reader* reader, const xmlNode* root, why_study* study) {
  const xmlNode* e = why_xml_first(root, "risk-of-bias");
  study->bias = (why_risk_of_bias){.randomisation = why_xml_symbol(reader, e, "randomisation"),
                                   .deviations = why_xml_symbol(reader, e, "deviations"),
                                   .missing = why_xml_symbol(reader, e, "missing"),
                                   .measurement = why_xml_symbol(reader, e, "measurement"),
                                   .selection = why_xml_symbol(reader, e, "selection"),
                                   .overall = why_xml_symbol(reader, e, "overall"),
                                   .place = why_xml_place(reader, e)};
  for (const xmlNode* n = why_xml_first(e, "reason"); n; n = why_xml_next(n, "reason"))
    *WHY_LIST_ADD(reader->arena, study->bias_reasons) = (why_bias_reason){
        .domain = why_xml_symbol(reader, n, "domain"), .text = why_xml_text(reader, n)};
}

static void read_title(why_reader* reader, const xmlNode* root, why_study* study) {
  const xmlNode* title = why_xml_first(root, "title");
  study->title = why_xml_text(reader, title);
  study->title_as = why_xml_symbol(reader, title, "as");
  const xmlNode* journal = why_xml_first(root, "journal");
  study->journal = why_xml_text(reader, journal);
  study->journal_as = why_xml_symbol(reader, journal, "as");
}

static void read_design(why_reader* reader, const xmlNode* root, why_study* study) {
  const char* design = why_xml_string(reader, root, "design");
  study->design = why_xml_symbol(reader, root, "design");
  study->randomised = strstr(design, "-randomised") != NULL;
  study->within_person =
      strncmp(design, "within", strlen("within")) == 0 || strncmp(design, "cross", 5) == 0;
}

static void read_people(why_reader* reader, const xmlNode* root, why_study* study) {
  const xmlNode* population = why_xml_first(root, "population");
  study->n = why_xml_number(reader, population, "n", NAN);
  study->sex = why_xml_symbol(reader, population, "sex");
  study->age = why_xml_number(reader, population, "age", NAN);
  study->training = why_xml_symbol(reader, population, "training");
  study->population_basis = why_xml_symbols(reader, population, "basis");
  const xmlNode* protocol = why_xml_first(root, "protocol");
  study->weeks = why_xml_number(reader, protocol, "weeks", NAN);
  study->sessions_per_week = why_xml_number(reader, protocol, "sessions-per-week", NAN);
  study->load_matched = why_known_read(protocol, "load-matched");
  study->protocol_basis = why_xml_symbols(reader, protocol, "basis");
}

static void read_rows(why_reader* reader, const xmlNode* root, why_study* study) {
  for (const xmlNode* n = why_xml_first(root, NULL); n; n = why_xml_next(n, NULL)) {
    if (why_xml_is(n, "overlaps"))
      *WHY_LIST_ADD(reader->arena, study->overlaps) = read_overlap(reader, n);
    else if (why_xml_is(n, "arm"))
      *WHY_LIST_ADD(reader->arena, study->arms) = why_arm_read(reader, n);
    else if (why_xml_is(n, "result"))
      *WHY_LIST_ADD(reader->arena, study->results) = read_result(reader, n);
    else if (why_xml_is(n, "contrast"))
      *WHY_LIST_ADD(reader->arena, study->contrasts) = read_contrast(reader, n);
    else if (why_xml_is(n, "within"))
      *WHY_LIST_ADD(reader->arena, study->within) = read_within(reader, n);
  }
}

void why_studies_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_study study = {.id = why_xml_symbol(reader, root, "id"),
                     .place = why_xml_place(reader, root),
                     .year = why_xml_whole(reader, root, "year"),
                     .doi = why_xml_string(reader, root, "doi"),
                     .doi_source = why_xml_symbol(reader, root, "doi-source"),
                     .pmid = why_xml_string(reader, root, "pmid"),
                     .pmc = why_xml_string(reader, root, "pmc"),
                     .link = why_xml_child_text(reader, root, "link"),
                     .note = all_texts(reader, root, "note"),
                     .interests = why_xml_child_text(reader, root, "interests"),
                     .left_out = why_left_out_read(reader, root)};
  read_title(reader, root, &study);
  read_design(reader, root, &study);
  read_people(reader, root, &study);
  read_rows(reader, root, &study);
  read_bias(reader, root, &study);
  const xmlNode* draft = why_xml_first(root, "draft");
  if (draft)
    study.draft = why_xml_place(reader, draft);
  *WHY_LIST_ADD(reader->arena, tables->studies.rows) = study;
}
