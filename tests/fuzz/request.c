// SPDX-License-Identifier: GPL-3.0-or-later
// Requests without a socket: the first line of the input is "METHOD TARGET", the second the host,
// the rest the body. The knowledge base is the shipped one, opened once.
#include "fuzz.h"
#include "serve/route.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static why_site site;

static void begin(void) {
  if (!why_site_init(&site, fuzz_knowledge(), WHY_HOME))
    abort();
}

/// Cut `text` at `sign`; what follows, or an empty text.
static char* cut(char* text, char sign) {
  char* end = strchr(text, sign);
  if (!end)
    return text + strlen(text);
  *end = '\0';
  return end + 1;
}

/// Every request gets a status and whole text; JSON is JSON.
static void feed(const uint8_t* bytes, size_t length) {
  char* input = strndup((const char*)bytes, length);
  if (!input)
    abort();
  char* host = cut(input, '\n');
  char* body = cut(host, '\n');
  char* target = cut(input, ' ');
  if (strncmp(target, "/carry", 6) == 0 || strncmp(target, "/without", 8) == 0 ||
      strncmp(target, "/plan?", 6) == 0) {
    free(input); // these do seconds of work with words that other paths take too
    return;
  }
  why_request request = {.method = input,
                         .target = target,
                         .host = *host ? host : NULL,
                         .body = body,
                         .length = strlen(body)};
  why_reply reply = {0};
  why_route(&site, &request, &reply);
  if (reply.status < 200 || reply.status > 503 || !reply.type || !reply.body.length)
    abort();
  if (strcmp(reply.type, WHY_TYPE_JSON) == 0) {
    json_t* read = json_loadb(reply.body.at, reply.body.length, 0, NULL);
    if (!json_is_object(read))
      abort();
    json_decref(read);
  }
  if (strcmp(reply.type, WHY_TYPE_HTML) == 0 && !reply.file && !strstr(reply.body.at, "</html>"))
    abort();
  why_bytes_free(&reply.body);
  free(input);
}

const fuzz_entrance fuzz_request = {"request", begin, feed};
