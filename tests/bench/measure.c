// SPDX-License-Identifier: GPL-3.0-or-later
// Runs a command some times and prints the least time that it took of the processor, so that other
// programs on the machine count little, and the most memory that it held: "SECONDS MEGABYTES". What
// the command writes goes to standard error.
//   bench-measure TIMES COMMAND [WORD...]
#define _DEFAULT_SOURCE // wait4
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

static double seconds_of(struct timeval time) {
  return (double)time.tv_sec + (double)time.tv_usec / 1e6;
}

/// Seconds of one run; negative when it failed. `megabytes` is raised to what it held.
static double run(char** words, double* megabytes) {
  pid_t child = fork();
  if (child == 0) {
    dup2(STDERR_FILENO, STDOUT_FILENO);
    execvp(words[0], words);
    _exit(127);
  }
  int status = 0;
  struct rusage usage;
  if (child < 0 || wait4(child, &status, 0, &usage) != child || !WIFEXITED(status) ||
      WEXITSTATUS(status) != 0)
    return -1;
  double held = (double)usage.ru_maxrss / 1024;
  *megabytes = held > *megabytes ? held : *megabytes;
  return seconds_of(usage.ru_utime) + seconds_of(usage.ru_stime);
}

int main(int count, char** words) {
  if (count < 3) {
    fputs("usage: bench-measure TIMES COMMAND [WORD...]\n", stderr);
    return 2;
  }
  double least = 1e9;
  double megabytes = 0;
  for (long left = strtol(words[1], NULL, 10); left > 0; left--) {
    double each = run(words + 2, &megabytes);
    if (each < 0) {
      fprintf(stderr, "%s failed\n", words[2]);
      return 1;
    }
    least = each < least ? each : least;
  }
  printf("%.3f %.0f\n", least, megabytes);
  return 0;
}
