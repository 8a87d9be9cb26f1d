// SPDX-License-Identifier: GPL-3.0-or-later
// Questions as lines of JSON: the input is one line. What comes back is one object on one line,
// whatever the input was. The knowledge base is the shipped one, opened once.
#include "serve/line.h"
#include "fuzz.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/// An answer, or a refusal that says why.
static void feed(const uint8_t* bytes, size_t length) {
  why_bytes out = {0};
  why_status status = why_line_answer(fuzz_knowledge(), (const char*)bytes, length, 1, &out);
  if (out.failed || memchr(out.at, '\n', out.length))
    abort();
  json_t* read = json_loadb(out.at, out.length, JSON_REJECT_DUPLICATES, NULL);
  bool refused = json_object_get(read, "error") != NULL;
  if (!json_is_object(read) || refused != (status != WHY_OK && status != WHY_NO_PICK))
    abort();
  if (refused && !json_array_size(json_object_get(read, "problems")))
    abort();
  json_decref(read);
  why_bytes_free(&out);
}

const fuzz_entrance fuzz_line = {"line", NULL, feed};
