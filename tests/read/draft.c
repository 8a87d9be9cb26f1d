// SPDX-License-Identifier: GPL-3.0-or-later
// Drafts of the invented abstracts in tests/abstracts: every number of a text is found and has its
// fate; nothing is guessed; what is written fits the schema of studies and is no study yet.
#include "read/draft.h"
#include "read/xml.h"
#include "shipped.h"

#include <criterion/criterion.h>
#include <ctype.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static why_tables* tables;
static const why_words* words;
static why_arena* arena;
static why_problems* problems;

static void begin(void) {
  tables = shipped_open();
  words = why_words_new(tables->arena, tables);
  arena = why_arena_new(0);
  problems = why_problems_new();
}

static void end(void) {
  why_problems_free(problems);
  why_arena_free(arena);
  shipped_close();
}

TestSuite(draft, .init = begin, .fini = end);

static const char* load(const char* name) {
  char path[512];
  snprintf(path, sizeof path, "%s/tests/abstracts/%s", WHY_HOME, name);
  FILE* file = fopen(path, "rb");
  cr_assert_not_null(file, "%s", path);
  why_buffer text = {.arena = arena};
  char piece[4096];
  for (size_t got; (got = fread(piece, 1, sizeof piece, file)) > 0;)
    why_buffer_add_bytes(&text, piece, got);
  fclose(file);
  return why_buffer_text(&text);
}

static why_draft* drafted(const char* text) {
  why_draft* draft = NULL;
  why_status status = why_draft_new(tables, words, text, arena, problems, &draft);
  cr_assert_eq(status, WHY_OK);
  return draft;
}

static const char* listed(const why_draft* draft) {
  why_buffer all = {.arena = arena};
  for (size_t i = 0; i < draft->text.numbers.count; i++) {
    const why_draft_number* each = &draft->text.numbers.at[i];
    why_buffer_print(&all, "%s | %s | %s\n", each->text, why_number_fate_name(each->fate),
                     each->what);
  }
  return why_buffer_text(&all);
}

/// All digits of a text in their order, but for those behind a letter (T1, cm2, wk-1) and in a DOI:
/// a plain scan that shares nothing with the one under test.
static const char* digits_of(const char* text) {
  why_buffer all = {.arena = arena};
  const char* start = text;
  for (; *text; text++) {
    if (strncmp(text, "doi:", 4) == 0)
      text += strcspn(text, " \n");
    if (!*text)
      break;
    if (!isdigit((unsigned char)*text))
      continue;
    bool minus = text - start >= 4 && strncmp(text - 3, "\xE2\x88\x92", 3) == 0;
    bool named = text > start && isalpha((unsigned char)text[-1]);
    named = named || (minus && isalpha((unsigned char)text[-4]));
    size_t length = strspn(text, "0123456789");
    if (!named)
      why_buffer_add_bytes(&all, text, length);
    text += length - 1;
  }
  return why_buffer_text(&all);
}

static const char* digits_found(const why_draft* draft) {
  why_buffer all = {.arena = arena};
  for (size_t i = 0; i < draft->text.numbers.count; i++)
    for (const char* c = draft->text.numbers.at[i].text; *c; c++)
      if (isdigit((unsigned char)*c))
        why_buffer_add_bytes(&all, c, 1);
  return why_buffer_text(&all);
}

static bool fits_schema(const char* xml) {
  why_reader* reader = WHY_NEW(arena, why_reader);
  *reader = (why_reader){.arena = arena,
                         .symbols = why_symbols_new(arena, NULL, 0),
                         .problems = problems,
                         .file = "draft.xml",
                         .text = xml};
  xmlDoc* doc = why_xml_parse(reader, strlen(xml));
  const why_schema* schema =
      why_schema_open(reader, WHY_HOME "/evidence/schema/studies.rng", "studies.rng");
  bool fits = doc && schema && why_schema_accepts(schema, reader, doc);
  why_xml_close(reader);
  return fits;
}

static void check_abstract(const char* name) {
  const char* text = load(name);
  const char* numbers = load(why_arena_print(arena, "%.*s.numbers", (int)(strlen(name) - 4), name));
  why_draft* draft = drafted(text);
  cr_expect_str_eq(listed(draft), numbers, "%s:\n%s", name, listed(draft));
  cr_expect_str_eq(digits_found(draft), digits_of(text), "%s: digits", name);
  cr_expect(fits_schema(why_draft_xml(draft, arena)), "%s: the draft does not fit the schema",
            name);
}

Test(draft, every_number_has_its_fate) {
  DIR* folder = opendir(WHY_HOME "/tests/abstracts");
  size_t count = 0;
  for (struct dirent* entry = folder ? readdir(folder) : NULL; entry; entry = readdir(folder)) {
    const char* end_of = strstr(entry->d_name, ".txt");
    if (!end_of || strcmp(entry->d_name, "README.txt") == 0)
      continue;
    check_abstract(entry->d_name);
    count++;
  }
  if (folder)
    closedir(folder);
  cr_expect_eq(count, 10);
}

/// What the text of a deep against a half squat says, field by field.
Test(draft, fields_are_those_of_the_text) {
  why_draft* draft = drafted(load("squat-depth.txt"));
  const why_study* study = &draft->study;
  cr_expect_eq(study->n, 24);
  cr_expect_eq(study->age, 22.4);
  cr_expect_eq(study->weeks, 10);
  cr_expect_eq(study->sessions_per_week, 2);
  cr_expect_str_eq(why_symbols_text(draft->symbols, study->sex), "men");
  cr_expect_str_eq(why_symbols_text(draft->symbols, study->training), "untrained");
  cr_expect_str_eq(why_symbols_text(draft->symbols, study->design), "parallel-randomised");
  cr_assert_eq(study->arms.count, 2);
  cr_expect_str_eq(study->arms.at[1].trained.at[0].as_written, "half squat");
  cr_expect_str_eq(study->arms.at[1].trained.at[0].load, "80% 1RM");
  cr_assert_eq(study->results.count, 2);
  cr_expect_eq(study->results.at[0].change_pct, 6.2);
  cr_expect_eq(study->results.at[0].change_pct_sd, 3.4);
  cr_expect_eq(study->results.at[1].p.exact, 0.21);
  cr_expect_str_eq(why_symbols_text(draft->symbols, study->results.at[1].method), "MRI volume");
}

typedef struct {
  const char* text;
  double values[4]; ///< NAN: can be read in two ways.
  size_t count;
} lexed_case;

static const lexed_case LEXED[] = {
    {"p < .05 and 0.5", {0.05, 0.5}, 2},
    {"grew 12,4% and 1,7%", {12.4, 1.7}, 2},
    {"grew 12.4% to 1,234 mm", {12.4, 1234}, 2},
    {"it was 1,234 mm", {NAN}, 1},
    {"it was 0,032", {0.032}, 1},
    {"it was 1.234,5 mm", {1234.5}, 1},
    {"it was 1,234,567.5 mm", {1234567.5}, 1},
    {"it was 5,1 cm and 1.301 cm", {5.1, NAN}, 2},
    {"[1.2,4.5]", {1.2, 4.5}, 2},
    {"weeks 4,8 and 12", {4, 8, 12}, 3},
    {"between \xE2\x88\x92"
     "1.2 and +3.4",
     {-1.2, 3.4},
     2},
    {"8\xE2\x80\x93"
     "12 of 10-12",
     {8, 12, 10, 12},
     4},
    {"forty-two men, twice, one hundred and five", {42, 2, 105}, 3},
    {"5\xC2\xB7"
     "1 \xC2\xB1 0\xC2\xB7"
     "4",
     {5.1, 0.4},
     2},
    {"T1, VO2max, cm2, 3 d\xC2\xB7wk\xE2\x88\x92"
     "1, CI95",
     {3},
     1},
    {"p\xE2\x89\xA4"
     "0.05, \xC2\xB1"
     "0.5, \xCE\x94"
     "9.4%",
     {0.05, 0.5, 9.4},
     3},
    {"see 10.1000/abc.12 and https://doi.org/10.1000/xyz-1 for 7", {7}, 1},
    {"1.2.3 is no number", {NAN}, 1},
};

Test(draft, commas_points_signs_and_words) {
  for (size_t i = 0; i < sizeof LEXED / sizeof *LEXED; i++) {
    why_sentences sentences = why_draft_sentences(arena, why_draft_mend(arena, LEXED[i].text));
    why_draft_lexed lexed = why_draft_lex(arena, &sentences);
    cr_assert_eq(lexed.numbers.count, LEXED[i].count, "%s: %zu numbers", LEXED[i].text,
                 lexed.numbers.count);
    for (size_t k = 0; k < LEXED[i].count; k++) {
      double got = lexed.numbers.at[k].value;
      double want = LEXED[i].values[k];
      cr_expect(isnan(want) ? isnan(got) : got == want, "%s: %g", LEXED[i].text, got);
    }
  }
}

Test(draft, pages_are_mended) {
  const char* mended =
      why_draft_mend(arena, "signi\xEF\xAC\x81"
                            "cant hyper-\n  trophy within-\nsubject 10-\nweek mus\xC2\xAD\ncle "
                            "1\xE2\x80\x89"
                            "234 cm\xC2\xB2 \xCE\xBCm\x01 &lt; +/- 3\xE2\x80\x94"
                            "4");
  cr_expect_str_eq(mended, "significant hypertrophy within-subject 10-week muscle 1234 cm2 "
                           "\xC2\xB5m  < \xC2\xB1 3 - 4");
}

static void expect_refused(const char* text) {
  why_draft* draft = NULL;
  size_t before = why_problems_count(problems);
  cr_expect_eq(why_draft_new(tables, words, text, arena, problems, &draft), WHY_QUESTION);
  cr_expect_null(draft);
  cr_expect_eq(why_problems_count(problems), before + 1);
}

Test(draft, what_is_no_abstract_is_refused) {
  expect_refused("");
  expect_refused("No number at all.");
  expect_refused("n = 12 \xFF\xFE men");
  why_buffer many = {.arena = arena};
  for (size_t i = 0; i < WHY_DRAFT_NUMBERS_LIMIT + 1; i++)
    why_buffer_add(&many, "1 ");
  expect_refused(why_buffer_text(&many));
  while (many.length <= WHY_DRAFT_TEXT_LIMIT)
    why_buffer_add(&many, "word ");
  expect_refused(why_buffer_text(&many));
}

/// Whatever stands in a sentence, the file that quotes it is sound.
Test(draft, odd_signs_make_no_odd_file) {
  why_draft* draft =
      drafted("Twelve men -- yes --- & <b>\"12\"</b> ]]> \x02 trained --> for 10 weeks -");
  cr_expect(fits_schema(why_draft_xml(draft, arena)));
}

/// Every study that is shipped can be written from its rows, and fits the schema.
Test(draft, every_study_can_be_written) {
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    why_buffer once = {.arena = arena};
    why_study_writing how = {.symbols = tables->symbols};
    why_study_write(&tables->studies.rows.at[i], &how, &once);
    cr_expect(fits_schema(why_buffer_text(&once)), "%s",
              why_symbols_text(tables->symbols, tables->studies.rows.at[i].id));
  }
}
