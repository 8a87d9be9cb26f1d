// SPDX-License-Identifier: GPL-3.0-or-later
// Runs a command some times and prints the least wall time, and the most memory that it held:
// "SECONDS MEGABYTES". What the command writes goes to standard error.
//   bench-measure TIMES COMMAND [WORD...]
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

/// Seconds of one run; negative when it failed.
static double run(char** words) {
  double begun = now();
  pid_t child = fork();
  if (child == 0) {
    dup2(STDERR_FILENO, STDOUT_FILENO);
    execvp(words[0], words);
    _exit(127);
  }
  int status = 0;
  if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status))
    return -1;
  // Grounders end with bits of their own for an answer found.
  bool sound = WEXITSTATUS(status) == 0 || WEXITSTATUS(status) == 10 || WEXITSTATUS(status) == 30;
  return sound ? now() - begun : -1;
}

int main(int count, char** words) {
  if (count < 3) {
    fputs("usage: bench-measure TIMES COMMAND [WORD...]\n", stderr);
    return 2;
  }
  double least = 1e9;
  for (long left = strtol(words[1], NULL, 10); left > 0; left--) {
    double each = run(words + 2);
    if (each < 0) {
      fprintf(stderr, "%s failed\n", words[2]);
      return 1;
    }
    least = each < least ? each : least;
  }
  struct rusage usage;
  getrusage(RUSAGE_CHILDREN, &usage);
  printf("%.3f %.0f\n", least, (double)usage.ru_maxrss / 1024);
  return 0;
}
