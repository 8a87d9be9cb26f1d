// SPDX-License-Identifier: GPL-3.0-or-later
// The program: read the options, run the command. A reader who closes the pipe ends it with a
// status of its own, not with a signal.
#include "command.h"
#include "output.h"

#include <signal.h>
#include <stdio.h>

int main(int argc, char** argv) {
  signal(SIGPIPE, SIG_IGN);
  why_options options;
  if (why_options_read(argc, argv, &options) != WHY_OK)
    return WHY_QUESTION;
  if (options.version) {
    printf("whylift %s\n", why_version());
    return (int)why_output_finish(WHY_OK);
  }
  if (options.help || !options.command) {
    why_options_help();
    return (int)why_output_finish(options.help ? WHY_OK : WHY_QUESTION);
  }
  return (int)why_output_finish(why_commands_run(&options));
}
