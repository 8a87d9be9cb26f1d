// SPDX-License-Identifier: GPL-3.0-or-later
// Where the page to carry is ordered. It is saved, not shown: its style and script stand inside it.
#include "carry.h"
#include "page.h"

#include <string.h>

static void add_form(const why_site* site, const why_address* address, why_bytes* out) {
  why_page_open(out, "A page to carry", "/carry", "coach start");
  why_bytes_text(out,
                 "<section>\n<h1>A page to carry</h1>\n"
                 "<p>One file with every goal and every swap for one place. It needs no server "
                 "and no network: save it, send it to your phone, open it there.</p>\n"
                 "<form method=\"get\" action=\"/carry\" data-kit=\"kit\">\n");
  why_fields_person(site, address, false, out);
  why_bytes_text(out, "<button type=\"submit\" name=\"format\" value=\"html\">Save the page"
                      "</button>\n</form>\n</section>\n");
  why_page_close(out);
}

static void refuse(const json_t* problems, why_status status, why_reply* reply) {
  why_reply_plain(reply, status == WHY_QUESTION ? WHY_REPLY_WRONG : WHY_REPLY_MACHINE,
                  "The page cannot be made:");
  size_t index;
  json_t* row;
  json_array_foreach(problems, index, row) {
    why_bytes_text(&reply->body, why_listed_text(row, "text"));
    why_bytes_text(&reply->body, "\n");
  }
}

void why_carry_page(const why_site* site, const why_address* address, why_reply* reply) {
  if (!why_address_value(address, "format")) {
    add_form(site, address, &reply->body);
    return;
  }
  why_pair pairs[WHY_PAIRS_LIMIT];
  size_t count = 0;
  for (size_t i = 0; i < address->count; i++)
    if (strcmp(address->pairs[i].name, "format") != 0)
      pairs[count++] = address->pairs[i];
  json_t* problems = NULL;
  why_status status = why_carry_write(site, &(why_carry_request){.pairs = pairs, .count = count},
                                      &reply->body, &problems);
  reply->file = "whylift.html";
  if (status != WHY_OK) {
    reply->file = NULL;
    refuse(problems, status, reply);
  }
  json_decref(problems);
}
