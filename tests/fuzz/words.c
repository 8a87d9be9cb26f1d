// SPDX-License-Identifier: GPL-3.0-or-later
// Typed words: each line of the input goes to one part of a question, through the public headers
// alone. The knowledge base is the shipped one, opened once.
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

static void say(why_query* query, size_t part, const char* line) {
  if (part <= WHY_KIND)
    why_query_set(query, (why_word_asked)part, line);
  else
    why_query_add(query, (why_words_asked)(part - WHY_KIND - 1), line);
}

int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length) {
  char* lines = strndup((const char*)bytes, length);
  why_query* query = why_query_new(shipped());
  if (!lines || !query)
    abort();
  size_t part = 0;
  for (char* line = lines; line; part++) {
    char* end = strchr(line, '\n');
    if (end)
      *end++ = '\0';
    if (*line)
      say(query, part % (WHY_KIND + 1 + WHY_AVOID + 1), line);
    line = end;
  }
  why_answer* answer = NULL;
  why_run(query, length ? (why_task)(bytes[0] % (WHY_LIST + 1)) : WHY_CHECK, &answer);
  if (answer && why_tell(answer, length % 2 ? "text" : "json", swallow, NULL) != WHY_OK)
    abort();
  why_query_free(query);
  free(lines);
  return 0;
}
