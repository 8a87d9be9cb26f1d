// SPDX-License-Identifier: GPL-3.0-or-later
// The table of paths. Tasks have one path each, /pick and so on, and need no row here.
#include "route.h"

#include "line.h"
#include "page.h"

#include <string.h>
#include <strings.h>

/// What is built in, written by the build: the style of answers, and of the frame around them.
extern const char WHY_SERVE_SHEET_STYLE[];
extern const char WHY_SERVE_STYLE[];
extern const char WHY_SERVE_SCRIPT[];
extern const char WHY_SERVE_MARK[];

enum { WAIT_SECONDS = 3 };

typedef struct {
  const why_site* site;
  const why_request* request;
  why_address* address;
  why_reply* reply;
} exchange;

static void send_style(exchange* at) {
  at->reply->type = "text/css; charset=utf-8";
  why_bytes_text(&at->reply->body, WHY_SERVE_SHEET_STYLE);
  why_bytes_text(&at->reply->body, WHY_SERVE_STYLE);
}

static void send_script(exchange* at) {
  at->reply->type = "text/javascript; charset=utf-8";
  why_bytes_text(&at->reply->body, WHY_SERVE_SCRIPT);
}

static void send_mark(exchange* at) {
  at->reply->type = "image/svg+xml";
  why_bytes_text(&at->reply->body, WHY_SERVE_MARK);
}

static void send_health(exchange* at) {
  at->reply->type = WHY_TYPE_JSON;
  why_bytes_print(&at->reply->body,
                  "{\"status\":\"ok\",\"knowledge\":{\"digest\":\"%s\",\"version\":\"%s\"}}\n",
                  why_knowledge_digest(at->site->knowledge), why_version());
}

static void send_start(exchange* at) {
  why_start_page(at->site, at->address, &at->reply->body);
}

static void send_class(exchange* at) {
  why_class_page(at->site, at->address, at->reply);
}

static void send_without(exchange* at) {
  why_without_page(at->site, at->address, at->reply);
}

static void send_carry(exchange* at) {
  why_carry_page(at->site, at->address, at->reply);
}

static void take_line(exchange* at) {
  at->reply->type = WHY_TYPE_JSON;
  if (at->request->length > WHY_LINE_LIMIT) {
    why_reply_plain(at->reply, WHY_REPLY_BODY, "This body is too long.");
    return;
  }
  why_status status =
      why_line_answer(at->site->knowledge, at->request->body ? at->request->body : "",
                      at->request->length, 0, &at->reply->body);
  why_bytes_text(&at->reply->body, "\n");
  if (status == WHY_QUESTION)
    at->reply->status = WHY_REPLY_WRONG;
  else if (status == WHY_MACHINE)
    at->reply->status = WHY_REPLY_MACHINE;
}

/// The methods that a path takes.
typedef enum { TAKES_GET, TAKES_POST, TAKES_BOTH } takes;

static const struct {
  const char* path;
  takes takes;
  void (*send)(exchange* at);
} PATHS[] = {
    {"/", TAKES_GET, send_start},        {"/class", TAKES_GET, send_class},
    {"/carry", TAKES_GET, send_carry},   {"/without", TAKES_GET, send_without},
    {"/health", TAKES_GET, send_health}, {"/style.css", TAKES_GET, send_style},
    {"/mark.svg", TAKES_GET, send_mark}, {"/script.js", TAKES_GET, send_script},
    {"/answer", TAKES_POST, take_line},
};

/// How a format goes out, and whether it is saved rather than shown: a page with its style inside
/// would not be allowed here.
typedef struct {
  const char* name;
  const char* type;
  const char* file;
} shape;

static const shape SHAPES[] = {
    {"json", WHY_TYPE_JSON, NULL},
    {"text", "text/plain; charset=utf-8", NULL},
    {"html", WHY_TYPE_HTML, "whylift.html"},
    {"svg", "image/svg+xml", NULL},
    {"csv", "text/csv; charset=utf-8", "whylift.csv"},
    {"dot", "text/vnd.graphviz; charset=utf-8", "whylift.dot"},
    {"xml", "application/xml; charset=utf-8", "whylift.xml"},
    {"ical", "text/calendar; charset=utf-8", "whylift.ics"},
};

static const shape* find_shape(const char* name) {
  for (size_t i = 0; i < sizeof SHAPES / sizeof *SHAPES; i++)
    if (strcmp(SHAPES[i].name, name) == 0)
      return &SHAPES[i];
  return NULL;
}

static unsigned reply_status(why_status status) {
  return status <= WHY_NO_PICK    ? WHY_REPLY_OK
         : status == WHY_QUESTION ? WHY_REPLY_WRONG
                                  : WHY_REPLY_MACHINE;
}

static void send_shaped(exchange* at, why_asking* asking, const shape* shaped) {
  why_reply* reply = at->reply;
  reply->type = shaped->type;
  reply->file = shaped->file;
  why_status told = why_tell(asking->answer, shaped->name, why_bytes_sink, &reply->body);
  if (told == WHY_QUESTION) {
    reply->file = NULL;
    why_reply_plain(reply, WHY_REPLY_WRONG, "This answer has nothing to show in this format.");
  } else if (told != WHY_OK) {
    reply->body.failed = true;
  }
}

/// What a question is about; the rest says who asks, and how much is shown.
static bool is_subject(const char* name) {
  static const char* const ASIDE[] = {"have", "without", "avoid", "level", "top", "dose", NULL};
  for (const char* const* each = ASIDE; *each; each++)
    if (strcmp(*each, name) == 0)
      return false;
  return true;
}

/// Everything in the address but the format is said to the query; whether it is a question.
static bool say_all(const why_address* address, why_asking* asking) {
  bool said = false;
  for (size_t i = 0; i < address->count; i++) {
    if (strcmp(address->pairs[i].name, "format") == 0)
      continue;
    why_asking_say(asking, address->pairs[i].name, address->pairs[i].value);
    said = said || is_subject(address->pairs[i].name);
  }
  return said;
}

static void send_refusal(const why_asking* asking, why_reply* reply) {
  reply->type = WHY_TYPE_JSON;
  why_line_refuse(asking, 0, &reply->body);
}

static void send_task(exchange* at, const char* task) {
  const char* format = why_address_value(at->address, "format");
  const shape* shaped = format ? find_shape(format) : NULL;
  if (format && !shaped) {
    why_reply_plain(at->reply, WHY_REPLY_WRONG,
                    "Formats are json, text, html, svg, csv, dot, xml and ical; none is a page.");
    return;
  }
  why_asking asking;
  why_asking_init(&asking, at->site->knowledge);
  why_asking_task_set(&asking, task);
  bool said = say_all(at->address, &asking);
  bool listing = strcmp(task, "list") == 0;
  if (said || shaped || listing)
    at->reply->status = reply_status(why_asking_run(&asking));
  if (shaped && asking.answer)
    send_shaped(at, &asking, shaped);
  else if (shaped)
    send_refusal(&asking, at->reply);
  else
    why_coach_page(at->site, at->address, task, said || listing ? &asking : NULL, &at->reply->body);
  why_asking_clear(&asking);
}

static bool allow(exchange* at, takes what) {
  static const char* const METHODS[] = {"GET, HEAD", "POST", "GET, HEAD, POST"};
  const char* method = at->request->method;
  bool post = strcmp(method, "POST") == 0;
  bool get = strcmp(method, "GET") == 0 || strcmp(method, "HEAD") == 0;
  if ((post && what != TAKES_GET) || (get && what != TAKES_POST))
    return true;
  at->reply->allow = METHODS[what];
  why_reply_plain(at->reply, WHY_REPLY_METHOD, "Not by this method.");
  return false;
}

/// What a form sent in the body stands beside what the address says.
static bool take_form(exchange* at) {
  if (strcmp(at->request->method, "POST") != 0)
    return true;
  why_address_fault fault = why_address_read_form(at->address, at->request);
  if (fault == WHY_ADDRESS_LONG)
    why_reply_plain(at->reply, WHY_REPLY_BODY, "This body is too long.");
  else if (fault == WHY_ADDRESS_WRONG)
    why_reply_plain(at->reply, WHY_REPLY_WRONG, "This form is not well formed.");
  return fault == WHY_ADDRESS_SOUND;
}

static void send_path(exchange* at) {
  for (size_t i = 0; i < sizeof PATHS / sizeof *PATHS; i++) {
    if (strcmp(PATHS[i].path, at->address->path) != 0)
      continue;
    if (allow(at, PATHS[i].takes))
      PATHS[i].send(at);
    return;
  }
  for (const why_asking_task* each = why_asking_tasks(); each->name; each++) {
    if (strcmp(each->name, at->address->path + 1) != 0)
      continue;
    if (!allow(at, why_coach_is_pasted(each->name) ? TAKES_BOTH : TAKES_GET))
      return;
    if (take_form(at))
      send_task(at, each->name);
    return;
  }
  why_reply_plain(at->reply, WHY_REPLY_MISSING, "There is no such page.");
}

/// A page elsewhere can make a browser ask this machine under a name of its own; so only names of
/// this machine are answered.
static bool is_local(const char* host) {
  static const char* const NAMES[] = {"localhost", "127.0.0.1", "[::1]"};
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
    size_t length = strlen(NAMES[i]);
    if (strncasecmp(host, NAMES[i], length) != 0)
      continue;
    const char* port = host + length;
    return !*port || (*port == ':' && strspn(port + 1, "0123456789") == strlen(port + 1));
  }
  return false;
}

void why_route(const why_site* site, const why_request* request, why_reply* reply) {
  why_address address;
  exchange at = {.site = site, .request = request, .address = &address, .reply = reply};
  reply->status = WHY_REPLY_OK;
  reply->type = WHY_TYPE_HTML;
  why_address_fault fault = why_address_read(&address, request->target);
  if (site->local && request->host && !is_local(request->host))
    why_reply_plain(reply, WHY_REPLY_ASTRAY, "This server answers for this machine alone.");
  else if (fault == WHY_ADDRESS_LONG)
    why_reply_plain(reply, WHY_REPLY_TARGET, "This address is too long.");
  else if (fault == WHY_ADDRESS_WRONG)
    why_reply_plain(reply, WHY_REPLY_WRONG, "This address is not well formed.");
  else
    send_path(&at);
  why_address_clear(&address);
  if (reply->body.failed) {
    why_bytes_free(&reply->body);
    reply->file = NULL;
    why_reply_plain(reply, WHY_REPLY_MACHINE, "The machine failed; no memory?");
  }
}

static bool begins_with_any(const char* text, const char* const* starts) {
  for (; *starts; starts++)
    if (strncmp(text, *starts, strlen(*starts)) == 0)
      return true;
  return false;
}

static bool holds_any(const char* text, const char* const* words) {
  for (size_t i = 0; words[i]; i++)
    if (strstr(text, words[i]))
      return true;
  return false;
}

/// Whether a sentence may ask for a week to be planned or looked through.
static bool speaks_of_week(const char* text) {
  static const char* const WORDS[] = {"week", "plan", "split", "program", "routine", "audit", NULL};
  return holds_any(text, WORDS);
}

/// A path that makes its page from what comes behind the question mark.
static bool is_long_path(const char* target) {
  static const char* const PATHS_THAT_WORK[] = {"/without?", "/carry?", "/plan?",
                                                "/audit?",   "/draft?", NULL};
  static const char* const ASK[] = {"/ask?", NULL};
  return begins_with_any(target, PATHS_THAT_WORK) ||
         (begins_with_any(target, ASK) && speaks_of_week(target));
}

bool why_route_is_long(const why_request* request) {
  static const char* const WORDS[] = {"plan", "audit", "draft", "\\", NULL}; // escapes hide names
  if (strcmp(request->method, "POST") != 0)
    return is_long_path(request->target) ||
           memchr(request->target, '%', strcspn(request->target, "?"));
  if (strcmp(request->target, "/answer") != 0)
    return true;
  return request->body &&
         (holds_any(request->body, WORDS) ||
          (strstr(request->body, "\"sentence\"") && speaks_of_week(request->body)));
}

/// Whether it can stand in a page as it came.
static bool is_plain(const char* target) {
  for (; *target; target++)
    if (*target <= ' ' || *target > '~')
      return false;
  return true;
}

void why_route_refuse(const why_request* request, why_reply* reply) {
  static const char WHAT[] = "Others wait for long work here too; ask again in a few seconds.";
  why_bytes* out = &reply->body;
  reply->wait = WAIT_SECONDS;
  if (!is_long_path(request->target) || !is_plain(request->target) ||
      strstr(request->target, "format=")) {
    why_reply_plain(reply, WHY_REPLY_BUSY, WHAT);
    return;
  }
  reply->status = WHY_REPLY_BUSY;
  reply->type = WHY_TYPE_HTML;
  why_page_open(out, "Not just now", "", "coach");
  why_bytes_print(out, "<section>\n<h1>Not just now</h1>\n<p>%s</p>\n<p><a href=\"", WHAT);
  why_bytes_markup(out, request->target);
  why_bytes_text(out, "\">Ask again</a></p>\n</section>\n");
  why_page_close(out);
}
