// SPDX-License-Identifier: GPL-3.0-or-later
// Questions in plain words: the input is one sentence, through the public headers alone. The
// knowledge base is the shipped one, opened once.
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

/// A question is answered, or something is reported; nothing in between.
static void feed(const uint8_t* bytes, size_t length) {
  char* sentence = strndup((const char*)bytes, length);
  why_query* query = why_query_new(fuzz_knowledge());
  if (!sentence || !query)
    abort();
  why_answer* answer = NULL;
  why_status status = why_query_ask(query, sentence);
  if (status == WHY_OK)
    status = why_run(query, WHY_ASK, &answer);
  if (!answer && !why_problems_count_from(why_query_problems(query), WHY_ERROR))
    abort();
  if (answer)
    fuzz_tell(answer, length % 2 ? "text" : "json");
  why_query_free(query);
  free(sentence);
}

const fuzz_entrance fuzz_sentence = {"sentence", NULL, feed};
