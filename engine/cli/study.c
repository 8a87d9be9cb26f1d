// SPDX-License-Identifier: GPL-3.0-or-later
// `study draft`: a pasted text becomes the file of a study that a person has to confirm; a table
// (.csv) becomes one as it stands. `study table`: a study as such a table. `study add`: what a file
// of either kind would change in the answers.
#include "study.h"

#include "command.h"
#include "differ.h"
#include "file.h"
#include "output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { TEXT_LIMIT = 2 * 1024 * 1024, SHOWN = 80 };

static why_status refuse(const char* sentence, const char* word) {
  fprintf(stderr, "whylift: %s: ", sentence);
  why_output_words(stderr, word, SHOWN);
  fputc('\n', stderr);
  return WHY_QUESTION;
}

static bool is_table(const char* path) {
  size_t length = strlen(path);
  return length >= 4 && strcasecmp(path + length - 4, ".csv") == 0;
}

/// What the file at `path` holds, put to `query`.
static why_status tell_file(why_query* query, const char* path) {
  char* text = NULL;
  size_t length = 0;
  why_status status = why_file_read(path, TEXT_LIMIT, &text, &length);
  if (status == WHY_OK && strlen(text) != length)
    status = refuse("this is no text, it holds a zero byte", path);
  if (status == WHY_OK)
    status = is_table(path) ? why_query_findings(query, path, text, length)
                            : why_query_set(query, WHY_TEXT, text);
  free(text);
  return status;
}

/// Ask for a draft of a file, or for the table of a study.
static why_status ask(const why_knowledge* knowledge, const why_options* options, why_task task) {
  why_query* query = why_query_new(knowledge);
  if (!query)
    return WHY_MACHINE;
  why_answer* answer = NULL;
  why_status status = task == WHY_DRAFT ? tell_file(query, options->words[1])
                                        : why_query_set(query, WHY_STUDY, options->words[1]);
  if (status == WHY_OK)
    status = why_command_run(query, task, &answer);
  why_options shown = *options;
  if (!options->format)
    shown.format = task == WHY_DRAFT ? "xml" : "csv";
  status = why_command_finish(query, answer, &shown, status);
  why_answer_free(answer);
  why_query_free(query);
  return status;
}

why_status why_study_run(const why_knowledge* knowledge, const why_options* options) {
  if (strcmp(options->words[0], "draft") == 0)
    return ask(knowledge, options, WHY_DRAFT);
  if (strcmp(options->words[0], "table") == 0)
    return ask(knowledge, options, WHY_TABULATE);
  if (strcmp(options->words[0], "add") == 0)
    return why_study_add(knowledge, options->words[1], options);
  return refuse("a study can be drafted, added or written as a table (study draft|add FILE, study "
                "table ID), not",
                options->words[0]);
}
