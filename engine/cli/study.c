// SPDX-License-Identifier: GPL-3.0-or-later
// `study draft`: a pasted text becomes the file of a study that a person has to confirm.
// `study add`: what such a file, confirmed, would change in the answers.
#include "study.h"

#include "command.h"
#include "differ.h"
#include "file.h"
#include "output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_LIMIT = 1024 * 1024, SHOWN = 80 };

static why_status refuse(const char* sentence, const char* word) {
  fprintf(stderr, "whylift: %s: ", sentence);
  why_output_words(stderr, word, SHOWN);
  fputc('\n', stderr);
  return WHY_QUESTION;
}

static why_status draft(const why_knowledge* knowledge, const why_options* options) {
  char* text = NULL;
  size_t length = 0;
  const char* path = options->words[1];
  why_status status = why_file_read(path, TEXT_LIMIT, &text, &length);
  if (status == WHY_OK && strlen(text) != length)
    status = refuse("this is no text, it holds a zero byte", path);
  why_query* query = status == WHY_OK ? why_query_new(knowledge) : NULL;
  why_answer* answer = NULL;
  if (status == WHY_OK)
    status = query ? why_query_set(query, WHY_TEXT, text) : WHY_MACHINE;
  if (status == WHY_OK)
    status = why_run(query, WHY_DRAFT, &answer);
  if (query) {
    why_options shown = *options;
    shown.format = options->format ? options->format : "xml";
    status = why_command_finish(query, answer, &shown, status);
  }
  why_answer_free(answer);
  why_query_free(query);
  free(text);
  return status;
}

why_status why_study_run(const why_knowledge* knowledge, const why_options* options) {
  if (strcmp(options->words[0], "draft") == 0)
    return draft(knowledge, options);
  if (strcmp(options->words[0], "add") == 0)
    return why_study_add(knowledge, options->words[1], options);
  return refuse("a study can be drafted or added (study draft|add FILE), not", options->words[0]);
}
