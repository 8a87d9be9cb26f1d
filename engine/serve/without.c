// SPDX-License-Identifier: GPL-3.0-or-later
// What if a study, a rule or an exercise were not there? The knowledge base is read and fitted anew
// without it, which takes a second or so.
#include "line.h"
#include "page.h"

#include <string.h>

typedef struct {
  const why_site* site;
  const why_address* address;
  const char* goal;
  const char* leave_out;
  why_reply* reply;
} trial;

static void add_form(const trial* at, why_bytes* out) {
  why_bytes_text(out,
                 "<form class=\"lesson\" method=\"get\" action=\"/without\" data-kit=\"kit\">\n"
                 "<h1>What if it were not there?</h1>\n<p>Leave out a study, a rule or an "
                 "exercise, and see what changes.</p>\n");
  why_field_goal(at->site, at->address, "goal", "Goal", out);
  why_field_part(at->site, at->address, out);
  why_field_place(at->site, at->address, out);
  why_bytes_text(out, "<button type=\"submit\">Leave it out</button>\n</form>\n");
}

static void add_shown(const trial* at, const why_answer* answer, why_bytes* out) {
  why_bytes part = {0};
  if (why_tell(answer, "html-part", why_bytes_sink, &part) != WHY_OK)
    out->failed = true;
  why_bytes_text(out, "<article>\n");
  why_bytes_add(out, why_bytes_of(&part), part.length);
  why_bytes_text(out, "</article>\n<p class=\"foot\"><a href=\"/class?goal=");
  why_bytes_address(out, at->goal);
  why_address_carry(at->address, WHY_PERSON, out);
  why_bytes_text(out, "\">Back to the lesson</a></p>\n");
  why_bytes_free(&part);
}

static bool fill(const trial* at, why_asking* asking, const why_knowledge* knowledge) {
  why_asking_init(asking, knowledge);
  why_asking_say(asking, "goal", at->goal);
  for (size_t i = 0; i < at->address->count; i++)
    for (const char* const* each = WHY_PERSON; *each; each++)
      if (strcmp(*each, at->address->pairs[i].name) == 0)
        why_asking_say(asking, *each, at->address->pairs[i].value);
  return asking->status == WHY_OK;
}

static void send_refusal(const trial* at, const why_asking* asking, bool as_json) {
  why_bytes* out = &at->reply->body;
  at->reply->status = WHY_REPLY_WRONG;
  if (as_json) {
    at->reply->type = WHY_TYPE_JSON;
    why_line_refuse(asking, 0, out);
    return;
  }
  why_page_open(out, "A lesson", "/class", "class");
  why_page_problems(asking, out);
  add_form(at, out);
  why_page_close(out);
}

static void send_answer(const trial* at, const why_answer* answer, bool as_json) {
  why_bytes* out = &at->reply->body;
  if (as_json) {
    at->reply->type = WHY_TYPE_JSON;
    out->failed |= why_tell(answer, "json", why_bytes_sink, out) != WHY_OK;
    return;
  }
  why_page_open(out, "A lesson", "/class", "class");
  add_shown(at, answer, out);
  why_page_close(out);
}

static void compare(const trial* at, const why_knowledge* other, why_asking* before, bool as_json) {
  why_asking after;
  fill(at, &after, other);
  why_answer* answer = NULL;
  why_status status = why_differ(before->query, after.query, WHY_PICK, &answer);
  if (answer)
    send_answer(at, answer, as_json);
  else if (status == WHY_QUESTION)
    send_refusal(at, &after, as_json);
  else
    at->reply->body.failed = true;
  why_answer_free(answer);
  why_asking_clear(&after);
}

static void try_without(const trial* at, why_asking* before, bool as_json) {
  why_knowledge* other = NULL;
  why_problems* problems = NULL;
  const why_settings settings = {.leave_out = at->leave_out};
  why_status status = why_knowledge_open(at->site->folder, &settings, &other, &problems);
  if (status == WHY_OK)
    compare(at, other, before, as_json);
  else if (status == WHY_QUESTION)
    why_asking_refuse(before, "leave-out", "this cannot be left out", at->leave_out,
                      problems && why_problems_count(problems) ? why_problems_at(problems, 0).text
                                                               : NULL);
  else
    why_asking_refuse(before, "leave-out", "without this the knowledge base does not hold",
                      at->leave_out, NULL);
  if (before->status != WHY_OK)
    send_refusal(at, before, as_json);
  why_knowledge_free(other);
  why_problems_free(problems);
}

void why_without_page(const why_site* site, const why_address* address, why_reply* reply) {
  trial at = {.site = site,
              .address = address,
              .goal = why_address_value(address, "goal"),
              .leave_out = why_address_value(address, "leave-out"),
              .reply = reply};
  bool as_json = why_address_says(address, "format", "json");
  if (!at.goal || !at.leave_out || strlen(at.leave_out) > WHY_TEXT_LIMIT) {
    why_page_open(&reply->body, "A lesson", "/class", "class");
    add_form(&at, &reply->body);
    why_page_close(&reply->body);
    return;
  }
  why_asking before;
  if (fill(&at, &before, site->knowledge))
    try_without(&at, &before, as_json);
  else
    send_refusal(&at, &before, as_json);
  why_asking_clear(&before);
}
