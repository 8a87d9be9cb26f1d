// SPDX-License-Identifier: GPL-3.0-or-later
// A written programme, text or XML, through the public headers alone: whatever it holds is either
// audited or refused with a reason.
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

static void feed(const uint8_t* bytes, size_t length) {
  why_query* query = why_query_new(fuzz_knowledge());
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
  if (answer)
    fuzz_tell(answer, length % 2 ? "text" : "json");
  why_query_free(query);
}

const fuzz_entrance fuzz_programme = {"programme", NULL, feed};
