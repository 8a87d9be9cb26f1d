// SPDX-License-Identifier: GPL-3.0-or-later
// A written programme, text or XML, through the public headers alone: whatever it holds is either
// audited or refused with a reason.
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

int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length) {
  why_query* query = why_query_new(shipped());
  if (!query)
    abort();
  why_answer* answer = NULL;
  why_status status = why_query_programme(query, "input", (const char*)bytes, length);
  if (status == WHY_OK)
    status = why_run(query, WHY_AUDIT, &answer);
  if (status != WHY_OK && status != WHY_QUESTION)
    abort();
  if (status == WHY_QUESTION && !why_problems_count(why_query_problems(query)))
    abort();
  if (answer && why_tell(answer, length % 2 ? "text" : "json", swallow, NULL) != WHY_OK)
    abort();
  why_query_free(query);
  return 0;
}
