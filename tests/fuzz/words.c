// SPDX-License-Identifier: GPL-3.0-or-later
// Typed words: each line of the input goes to one part of a question, through the public headers
// alone. The knowledge base is the shipped one, opened once.
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

static void say(why_query* query, size_t part, const char* line) {
  if (part <= WHY_STUDY)
    why_query_set(query, (why_word_asked)part, line);
  else
    why_query_add(query, (why_words_asked)(part - WHY_STUDY - 1), line);
}

static void feed(const uint8_t* bytes, size_t length) {
  char* lines = strndup((const char*)bytes, length);
  why_query* query = why_query_new(fuzz_knowledge());
  if (!lines || !query)
    abort();
  size_t part = 0;
  for (char* line = lines; line; part++) {
    char* end = strchr(line, '\n');
    if (end)
      *end++ = '\0';
    if (*line)
      say(query, part % (WHY_STUDY + 1 + WHY_ALLOW + 1), line);
    line = end;
  }
  why_answer* answer = NULL;
  why_task task = length ? (why_task)(bytes[0] % (WHY_TABULATE + 1)) : WHY_LIST;
  // These compute for long, on words that are read by then.
  if (task != WHY_VALIDATE && task != WHY_PLAN && task != WHY_CHECK)
    why_run(query, task, &answer);
  if (answer)
    fuzz_tell(answer, length % 2 ? "text" : "json");
  why_query_free(query);
  free(lines);
}

const fuzz_entrance fuzz_words = {"words", NULL, feed};
