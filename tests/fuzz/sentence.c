// SPDX-License-Identifier: GPL-3.0-or-later
// Questions in plain words: the input is one sentence, through the public headers alone. The
// knowledge base is the shipped one, opened once.
#include "fuzz.h"
#include "whylift/whylift.h"

#include <stdlib.h>
#include <string.h>

static const why_knowledge* shipped(void) {
  static why_knowledge* knowledge;
  static why_problems* problems;
  if (!knowledge && why_knowledge_open(WHY_HOME, NULL, &knowledge, &problems) != WHY_OK)
    abort();
  return knowledge;
}

static bool swallow(void* user, const char* bytes, size_t length) {
  (void)user;
  return memchr(bytes, 0, length) == NULL;
}

/// A question is answered, or something is reported; nothing in between.
int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length) {
  char* sentence = strndup((const char*)bytes, length);
  why_query* query = why_query_new(shipped());
  if (!sentence || !query)
    abort();
  why_answer* answer = NULL;
  why_status status = why_query_ask(query, sentence);
  if (status == WHY_OK)
    status = why_run(query, WHY_ASK, &answer);
  if (!answer && !why_problems_count_from(why_query_problems(query), WHY_ERROR))
    abort();
  if (answer && why_tell(answer, length % 2 ? "text" : "json", swallow, NULL) != WHY_OK)
    abort();
  why_query_free(query);
  free(sentence);
  return 0;
}
