// SPDX-License-Identifier: GPL-3.0-or-later
// Requests without a socket: every path answers, pages are well formed and carry no script or style
// of their own, wrong requests get the status of RFC 9110 that says so.
#include "serve/route.h"

#include "pick/told.h"
#include "tell/marks.h"

#include <criterion/criterion.h>
#include <jansson.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

static why_knowledge* knowledge;
static why_site site;

static void open_site(void) {
  knowledge = told_open(0, 0);
  cr_assert(why_site_init(&site, knowledge, WHY_HOME));
}

static void close_site(void) {
  why_site_clear(&site);
  why_knowledge_free(knowledge);
}

TestSuite(route, .init = open_site, .fini = close_site, .timeout = 120);

static why_reply ask_from(const char* method, const char* target, const char* host,
                          const char* body) {
  why_request request = {.method = method,
                         .target = target,
                         .host = host,
                         .body = body,
                         .length = body ? strlen(body) : 0};
  why_reply reply = {0};
  why_route(&site, &request, &reply);
  return reply;
}

static why_reply ask(const char* target) {
  return ask_from("GET", target, "127.0.0.1:7417", NULL);
}

static unsigned status_of(why_reply reply) {
  why_bytes_free(&reply.body);
  return reply.status;
}

static const char* const PAGES[] = {
    "/",
    "/pick",
    "/pick?goal=hamstrings&have=hotel-room&have=&avoid=knee-front&level=beginner&top=all",
    "/pick?goal=hamstrings&have=nothing&avoid=knee-pain",
    "/pick?goal=calves&have=dumbbells:15kg,chair",
    "/swap?replaced=barbell+back+squat&have=hotel-room",
    "/why?exercise=leg-press&goal=hamstrings",
    "/ask?sentence=hammies+with+bands%2C+bad+knee",
    "/ask?sentence=chest+pain+when+I+press",
    "/pool?subject=hamstrings",
    "/moments?exercise=leg-press",
    "/audit",
    "/audit?programme=Mon%3A+RDL+3x8%0D%0ATue%3A+leg+ext+4x12",
    "/plan",
    "/plan?days=2&minutes=45&target=glutes%3A2%2C+calves&have=hotel-room&purpose=keep",
    "/plan?start=2026-01-05&days=1",
    "/draft",
    "/list",
    "/list?kind=places",
    "/carry",
    "/without",
    "/without?goal=hamstrings&leave-out=leg-curl-seated-vs-prone-2021",
    "/class",
    "/class?goal=hamstrings&have=hotel-room",
    "/class?goal=hamstrings&exercise=leg-press",
    "/class?goal=hamstrings&exercise=leg-press&at=1&hide=yes",
    "/class?goal=hamstrings&exercise=leg-press&at=2.1.1",
    "/class?goal=hamstrings&exercise=leg-press&at=99.99999999999999999999999.x",
};

Test(route, every_page_is_well_formed_and_bare_of_scripts_and_styles) {
  static const char* const NOWHERE[] = {"<style", " style=", " onclick", "javascript:", "<script>"};
  for (size_t i = 0; i < sizeof PAGES / sizeof *PAGES; i++) {
    why_reply reply = ask(PAGES[i]);
    cr_expect_eq(reply.status, 200, "%s: %u", PAGES[i], reply.status);
    cr_expect_eq(reply.type, WHY_TYPE_HTML);
    marks_check_xml(reply.body.at, reply.body.length, PAGES[i]);
    for (size_t k = 0; k < sizeof NOWHERE / sizeof *NOWHERE; k++)
      cr_expect_null(strstr(reply.body.at, NOWHERE[k]), "%s: %s", PAGES[i], NOWHERE[k]);
    why_bytes_free(&reply.body);
  }
}

Test(route, line_breaks_of_forms_come_back_as_they_were) {
  why_reply reply = ask("/audit?programme=Mon%3A+RDL+3x8%0D%0ATue%3A+leg+ext+4x12");
  cr_expect_not_null(strstr(reply.body.at, "Mon: RDL 3x8\nTue: leg ext 4x12</textarea>"));
  why_bytes_free(&reply.body);
}

/// What people type comes back inside quotation marks and tags, and must not leave them.
Test(route, words_of_others_stay_words) {
  static const char* const HOSTILE[] = {
      "/pick?goal=%22%3E%3Cscript%3Ealert(1)%3C/script%3E",
      "/pick?goal=chest&have=%27%22%3E%3Cimg%20src=x%3E",
      "/ask?sentence=%3Cb%3E%22hamstrings%22%26%27",
      "/class?goal=hamstrings&exercise=%3Cscript%3E",
      "/list?kind=%22%3E%3Cscript%3E",
      "/why?goal=hamstrings&exercise=leg-press&have=full-gym%22%20onclick=x%20y=%22"};
  for (size_t i = 0; i < sizeof HOSTILE / sizeof *HOSTILE; i++) {
    why_reply reply = ask(HOSTILE[i]);
    marks_check_xml(reply.body.at, reply.body.length, HOSTILE[i]);
    cr_expect_null(strstr(reply.body.at, "<script>"), "%s", HOSTILE[i]);
    cr_expect_null(strstr(reply.body.at, "<img"), "%s", HOSTILE[i]);
    cr_expect_null(strstr(reply.body.at, "<b>"), "%s", HOSTILE[i]);
    why_bytes_free(&reply.body);
  }
}

Test(route, every_link_of_a_page_leads_somewhere) {
  why_reply page = ask("/pick?goal=hamstrings&have=hotel-room&avoid=knee-front&top=all");
  size_t links = 0;
  for (char* at = page.body.at; (at = strstr(at, "href=\"/"));) {
    at += strlen("href=\"");
    char target[1000];
    size_t length = 0;
    for (; *at != '"'; at++) {
      cr_assert_lt(length, sizeof target - 1);
      target[length++] = *at;
      if (*at == '&')
        at += strlen("&amp;") - 1;
    }
    target[length] = '\0';
    why_reply there = ask(target);
    cr_expect_eq(there.status, 200, "%s: %u", target, there.status);
    why_bytes_free(&there.body);
    links++;
  }
  cr_expect_gt(links, 20);
  why_bytes_free(&page.body);
}

Test(route, gives_the_answer_as_json_with_the_same_members_as_a_line) {
  why_reply got = ask("/swap?replaced=barbell-back-squat&have=hotel-room&format=json");
  why_reply line = ask_from("POST", "/answer", "localhost",
                            "{\"task\":\"swap\",\"replaced\":\"barbell-back-squat\","
                            "\"have\":[\"hotel-room\"]}");
  cr_assert_eq(got.status, 200);
  cr_assert_eq(line.status, 200);
  cr_expect_str_eq(got.type, "application/json");
  json_t* one = json_loadb(got.body.at, got.body.length, 0, NULL);
  json_t* other = json_loadb(line.body.at, line.body.length, 0, NULL);
  cr_expect(json_is_object(one) && json_equal(one, other));
  json_decref(one);
  json_decref(other);
  why_bytes_free(&got.body);
  why_bytes_free(&line.body);
}

/// The page to carry holds every goal and every swap, and asks for nothing from anywhere.
Test(route, makes_a_page_to_carry) {
  why_reply page = ask("/carry?have=hotel-room&format=html");
  cr_assert_eq(page.status, 200);
  cr_expect_str_eq(page.file, "whylift.html");
  marks_check_xml(page.body.at, page.body.length, "the page to carry");
  cr_expect_lt(page.body.length, 2000000);
  size_t folds = 0;
  for (const char* at = page.body.at; (at = strstr(at, "class=\"found\"")); at++)
    folds++;
  cr_expect_eq(folds, json_array_size(site.choices.groups) + json_array_size(site.choices.heads) +
                          json_array_size(site.choices.actions) +
                          json_array_size(site.choices.exercises));
  cr_expect_null(strstr(page.body.at, " src="));
  cr_expect_null(strstr(page.body.at, "url("));
  cr_expect_not_null(strstr(page.body.at, "not medical advice"));
  why_bytes_free(&page.body);
  cr_expect_eq(status_of(ask("/carry?have=rocks&format=html")), 400);
}

Test(route, leaves_a_study_out) {
  why_reply got =
      ask("/without?goal=hamstrings&leave-out=leg-curl-seated-vs-prone-2021&format=json");
  cr_assert_eq(got.status, 200);
  json_t* read = json_loadb(got.body.at, got.body.length, 0, NULL);
  cr_expect_gt(json_array_size(json_object_get(read, "parts")), 0);
  json_decref(read);
  why_bytes_free(&got.body);
  cr_expect_eq(status_of(ask("/without?goal=hamstrings&leave-out=no-such-thing")), 400);
  cr_expect_eq(status_of(ask("/without?goal=rockets&leave-out=leg-curl-seated-vs-prone-2021")),
               400);
}

static void* ask_in_thread(void* reply) {
  *(why_reply*)reply = ask("/pick?goal=chest&have=home-basic&top=10");
  return NULL;
}

/// Figures are drawn when they are first shown, by whichever thread is the first, and then kept.
Test(route, gives_all_threads_the_same_page) {
  enum { THREADS = 6 };
  pthread_t threads[THREADS];
  why_reply replies[THREADS];
  for (int i = 0; i < THREADS; i++)
    cr_assert_eq(pthread_create(&threads[i], NULL, ask_in_thread, &replies[i]), 0);
  for (int i = 0; i < THREADS; i++)
    pthread_join(threads[i], NULL);
  why_reply later = ask("/pick?goal=chest&have=home-basic&top=10");
  cr_expect_not_null(strstr(later.body.at, "<svg"));
  for (int i = 0; i < THREADS; i++) {
    cr_expect_str_eq(replies[i].body.at, later.body.at);
    why_bytes_free(&replies[i].body);
  }
  why_bytes_free(&later.body);
}

static why_reply post(const char* target, const char* form) {
  return ask_from("POST", target, "localhost", form);
}

/// What is pasted goes in the body, and comes back in it; of little, the page gives an address.
Test(route, takes_what_is_pasted_as_a_form) {
  why_reply small = post("/audit", "programme=Mon%3A+RDL+3x8%0D%0ATue%3A+leg+ext+4x12");
  cr_assert_eq(small.status, 200);
  marks_check_xml(small.body.at, small.body.length, "a small programme");
  cr_expect_not_null(strstr(small.body.at, "href=\"/audit?programme=Mon%3A%20RDL"));
  why_bytes_free(&small.body);
  why_bytes form = {0};
  why_bytes_text(&form, "programme=Mon%3A+RDL+3x8");
  for (int i = 0; i < 200; i++)
    why_bytes_text(&form, "%0D%0Aleg+ext+4x12");
  why_reply large = post("/audit", form.at);
  cr_assert_eq(large.status, 200);
  marks_check_xml(large.body.at, large.body.length, "a large programme");
  cr_expect_not_null(strstr(large.body.at, "<input type=\"hidden\" name=\"programme\""));
  cr_expect_null(strstr(large.body.at, "href=\"/audit?programme"));
  why_bytes_free(&large.body);
  why_bytes_free(&form);
}

/// A pasted abstract becomes the file of a study.
Test(route, drafts_a_study) {
  static const char TEXT[] = "text=Fourteen+men+trained+twice+weekly+for+12+weeks.+Soleus+volume+"
                             "increased+by+2.1%25+in+standing+and+2.9%25+in+seated+calf+raises.";
  why_reply page = post("/draft", TEXT);
  cr_assert_eq(page.status, 200);
  marks_check_xml(page.body.at, page.body.length, "a draft");
  why_bytes_free(&page.body);
  why_bytes form = {0};
  why_bytes_text(&form, TEXT);
  why_bytes_text(&form, "&format=xml");
  why_reply file = post("/draft", form.at);
  cr_assert_eq(file.status, 200);
  cr_expect_str_eq(file.file, "whylift.xml");
  marks_check_xml(file.body.at, file.body.length, "the file of a draft");
  cr_expect_not_null(strstr(file.body.at, "change-pct=\"2.1\""));
  why_bytes_free(&file.body);
  why_bytes_free(&form);
}

Test(route, refuses_forms_that_are_wrong) {
  cr_expect_eq(status_of(post("/audit", "programme=%zz")), 400);
  cr_expect_eq(status_of(post("/audit", "programme=%ff")), 400);
  cr_expect_eq(status_of(post("/audit", "colour=red")), 400);
  cr_expect_eq(status_of(post("/draft", "text=no+number+at+all")), 400);
  cr_expect_eq(status_of(post("/pick", "goal=chest")), 405);
  why_bytes form = {0};
  while (form.length <= WHY_LINE_LIMIT)
    why_bytes_text(&form, "programme=Mon%3A+RDL+3x8%0D%0A&");
  cr_expect_eq(status_of(post("/audit", form.at)), 413);
  why_bytes_free(&form);
}

static bool is_long(const char* method, const char* target, const char* body) {
  why_request request = {.method = method, .target = target, .body = body};
  return why_route_is_long(&request);
}

/// However it is written, what takes long is known before it is begun.
Test(route, knows_what_takes_long) {
  cr_expect(is_long("GET", "/without?goal=calves&leave-out=x", NULL));
  cr_expect(is_long("GET", "/carry?format=html", NULL));
  cr_expect(is_long("GET", "/pl%61n?days=3", NULL));
  cr_expect(is_long("POST", "/draft", "text=x"));
  cr_expect(is_long("POST", "/answer", "{\"task\":\"plan\"}"));
  cr_expect(is_long("POST", "/answer", "{\"task\":\"pl\\u0061n\"}"));
  cr_expect_not(is_long("GET", "/plan", NULL));
  cr_expect_not(is_long("GET", "/pick?goal=chest%20press", NULL));
  cr_expect_not(is_long("POST", "/answer", "{\"task\":\"pick\",\"goal\":\"chest\"}"));
}

Test(route, says_when_there_is_no_time) {
  why_reply page = {0};
  why_request request = {.method = "GET", .target = "/plan?days=2&minutes=\"45"};
  why_route_refuse(&request, &page);
  cr_expect_eq(page.status, 503);
  cr_expect_gt(page.wait, 0);
  marks_check_xml(page.body.at, page.body.length, "no time");
  cr_expect_not_null(strstr(page.body.at, "href=\"/plan?days=2&amp;minutes=&quot;45\""));
  why_bytes_free(&page.body);
  request.target = "//elsewhere.example/%61";
  why_reply text = {0};
  why_route_refuse(&request, &text);
  cr_expect_eq(text.status, 503);
  cr_expect_null(strstr(text.body.at, "elsewhere"));
  why_bytes_free(&text.body);
}

Test(route, refuses_as_json_where_json_was_asked_for) {
  why_reply got = ask("/pick?goal=hamstrigns&format=json");
  cr_expect_eq(got.status, 400);
  json_t* read = json_loadb(got.body.at, got.body.length, 0, NULL);
  cr_expect_str_eq(json_string_value(json_object_get(read, "error")), "question");
  json_decref(read);
  why_bytes_free(&got.body);
}

Test(route, says_what_is_wrong_by_status) {
  cr_expect_eq(status_of(ask("/nothing")), 404);
  cr_expect_eq(status_of(ask("/pick/")), 404);
  cr_expect_eq(status_of(ask("/../../etc/passwd")), 404);
  cr_expect_eq(status_of(ask("/%2e%2e/README.md")), 404);
  cr_expect_eq(status_of(ask("//style.css")), 404);
  cr_expect_eq(status_of(ask("*")), 400);
  cr_expect_eq(status_of(ask("")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=%zz")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=%00")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=%ff")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=%1b[31m")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=chest&colour=red")), 400);
  cr_expect_eq(status_of(ask("/pick?goal=chest&format=pdf")), 400);
  cr_expect_eq(status_of(ask("/list?kind=places&format=svg")), 400);
  cr_expect_eq(status_of(ask_from("POST", "/answer", NULL, "nonsense")), 400);
  cr_expect_eq(status_of(ask_from("POST", "/answer", NULL, NULL)), 400);
}

Test(route, takes_few_methods) {
  static const char* const METHODS[] = {"POST", "PUT", "DELETE", "OPTIONS", "TRACE", "get", ""};
  for (size_t i = 0; i < sizeof METHODS / sizeof *METHODS; i++)
    cr_expect_eq(status_of(ask_from(METHODS[i], "/pick?goal=chest", NULL, NULL)), 405);
  cr_expect_eq(status_of(ask_from("HEAD", "/pick?goal=chest", NULL, NULL)), 200);
  why_reply reply = ask_from("GET", "/answer", NULL, NULL);
  cr_expect_eq(reply.status, 405);
  cr_expect_str_eq(reply.allow, "POST");
  why_bytes_free(&reply.body);
}

Test(route, answers_under_names_of_this_machine_alone) {
  cr_expect_eq(status_of(ask_from("GET", "/health", "localhost", NULL)), 200);
  cr_expect_eq(status_of(ask_from("GET", "/health", "LOCALHOST:80", NULL)), 200);
  cr_expect_eq(status_of(ask_from("GET", "/health", "[::1]:7417", NULL)), 200);
  cr_expect_eq(status_of(ask_from("GET", "/health", "localhost.example", NULL)), 421);
  cr_expect_eq(status_of(ask_from("GET", "/health", "127.0.0.1.example:7417", NULL)), 421);
  cr_expect_eq(status_of(ask_from("GET", "/health", "example:7417", NULL)), 421);
  cr_expect_eq(status_of(ask_from("GET", "/health", "localhost:x", NULL)), 421);
  site.local = false;
  cr_expect_eq(status_of(ask_from("GET", "/health", "gym.example", NULL)), 200);
}

Test(route, is_limited_in_length_and_number) {
  char* target = malloc(2 * WHY_TARGET_LIMIT);
  cr_assert_not_null(target);
  memset(target, 'a', 2 * WHY_TARGET_LIMIT);
  memcpy(target, "/pick?goal=", strlen("/pick?goal="));
  target[WHY_TARGET_LIMIT + 1] = '\0';
  cr_expect_eq(status_of(ask(target)), 414);
  target[WHY_TARGET_LIMIT] = '\0';
  cr_expect_eq(status_of(ask(target)), 400, "a word that long is no goal");
  strcpy(target, "/pick?");
  for (int i = 0; i <= WHY_PAIRS_LIMIT; i++)
    strcat(target, "have=bands&");
  cr_expect_eq(status_of(ask(target)), 414);
  free(target);
}
