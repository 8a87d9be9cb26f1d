// SPDX-License-Identifier: GPL-3.0-or-later
// Replies that are no answer.
#include "reply.h"

const char WHY_TYPE_HTML[] = "text/html; charset=utf-8";
const char WHY_TYPE_JSON[] = "application/json";

void why_reply_plain(why_reply* reply, unsigned status, const char* sentence) {
  reply->status = status;
  reply->type = "text/plain; charset=utf-8";
  why_bytes_clear(&reply->body);
  why_bytes_text(&reply->body, sentence);
  why_bytes_text(&reply->body, "\n");
}
