// SPDX-License-Identifier: GPL-3.0-or-later
// How long the shipped knowledge base takes from XML to ready, and a question in a process that is
// warm: words to tables to rules to JSON. Prints; decides nothing. Times are those of the
// processor, so that other programs on the machine do not count.
//   bench-knowledge FOLDER [ROUNDS [GOAL...]]
#include "whylift/whylift.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

static const char* const GOALS[] = {"hamstrings",     "quadriceps", "glutes",     "calves",
                                    "biceps",         "triceps",    "chest",      "upper back",
                                    "lats",           "abs",        "front delt", "side delt",
                                    "rectus femoris", "soleus",     "adductors",  "hip-extension"};
static const char* const PLACES[] = {NULL, "hotel-room", "dumbbells, flat bench", "nothing"};
static const char* const RESTRICTIONS[] = {NULL, "overhead", "spinal-load"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

/// What is asked: every goal in every place under every restriction.
typedef struct {
  const why_knowledge* knowledge;
  const char* const* goals;
  size_t goal_count;
} questions;

static size_t count_questions(const questions* all) {
  return all->goal_count * COUNT(PLACES) * COUNT(RESTRICTIONS);
}

static double now(void) {
  struct timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static double peak_mb(void) {
  struct rusage usage;
  getrusage(RUSAGE_SELF, &usage);
  return (double)usage.ru_maxrss / 1024;
}

static bool count_bytes(void* user, const char* bytes, size_t length) {
  (void)bytes;
  *(size_t*)user += length;
  return true;
}

/// Seconds of a question's parts, and what it gave.
typedef struct {
  double run;
  double tell;
  double whole;
  size_t picks;
  size_t bytes;
  why_status status;
} asked;

static asked ask(const questions* all, size_t number) {
  asked made = {0};
  const char* place = PLACES[number / all->goal_count % COUNT(PLACES)];
  const char* restriction = RESTRICTIONS[number / all->goal_count / COUNT(PLACES)];
  why_answer* answer = NULL;
  double begun = now();
  why_query* query = why_query_new(all->knowledge);
  made.status = why_query_set(query, WHY_GOAL, all->goals[number % all->goal_count]);
  if (place && made.status == WHY_OK)
    made.status = why_query_add(query, WHY_HAVE, place);
  if (restriction && made.status == WHY_OK)
    made.status = why_query_add(query, WHY_AVOID, restriction);
  double understood = now();
  if (made.status == WHY_OK)
    made.status = why_run(query, WHY_PICK, &answer);
  double run = now();
  if (answer) {
    made.picks = why_answer_count(answer);
    why_tell(answer, "json", count_bytes, &made.bytes);
  }
  double told = now();
  why_answer_free(answer);
  why_query_free(query);
  made.run = run - understood;
  made.tell = told - run;
  made.whole = now() - begun;
  return made;
}

static int compare(const void* left, const void* right) {
  const double a = *(const double*)left;
  const double b = *(const double*)right;
  return (a > b) - (a < b);
}

static void print_times(const char* what, double* times, size_t count) {
  qsort(times, count, sizeof *times, compare);
  printf("%-32s median %7.3f ms   99 %% %7.3f ms   most %7.3f ms\n", what, times[count / 2] * 1e3,
         times[count * 99 / 100] * 1e3, times[count - 1] * 1e3);
}

static bool ask_all(const questions* all, unsigned rounds) {
  size_t count = count_questions(all) * (size_t)rounds;
  double* run = calloc(count, sizeof *run);
  double* tell = calloc(count, sizeof *tell);
  double* whole = calloc(count, sizeof *whole);
  size_t picks = 0;
  size_t bytes = 0;
  bool sound = run && tell && whole;
  for (size_t i = 0; i < count && sound; i++) {
    asked each = ask(all, i % count_questions(all));
    sound = each.status == WHY_OK || each.status == WHY_NO_PICK;
    if (!sound)
      fprintf(stderr, "question %zu ended with status %d\n", i, (int)each.status);
    run[i] = each.run;
    tell[i] = each.tell;
    whole[i] = each.whole;
    picks += each.picks;
    bytes += each.bytes;
  }
  if (sound) {
    printf("%zu questions, %zu picks and %zu bytes in all\n", count, picks, bytes);
    print_times("reasoning and reading", run, count);
    print_times("telling as JSON", tell, count);
    print_times("a question from words to JSON", whole, count);
  }
  free(run);
  free(tell);
  free(whole);
  return sound;
}

int main(int count, char** words) {
  if (count < 2) {
    fputs("usage: bench-knowledge FOLDER [ROUNDS [GOAL...]]\n", stderr);
    return 2;
  }
  unsigned rounds = count > 2 ? (unsigned)strtoul(words[2], NULL, 10) : 5;
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  double begun = now();
  why_status status = why_knowledge_open(words[1], NULL, &knowledge, &problems);
  printf("from XML to ready                %7.3f s, peak %.0f MB\n", now() - begun, peak_mb());
  questions all = {knowledge, GOALS, COUNT(GOALS)};
  if (count > 3)
    all = (questions){knowledge, (const char* const*)words + 3, (size_t)count - 3};
  bool sound = status == WHY_OK && (rounds == 0 || ask_all(&all, rounds));
  for (size_t i = 0; status != WHY_OK && i < why_problems_count(problems) && i < 10; i++)
    fprintf(stderr, "%s\n", why_problems_at(problems, i).text);
  printf("peak                             %7.0f MB\n", peak_mb());
  why_knowledge_free(knowledge);
  why_problems_free(problems);
  return sound ? 0 : 1;
}
