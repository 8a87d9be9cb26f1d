// SPDX-License-Identifier: GPL-3.0-or-later
// The program: read the options, run the command.
#include "command.h"

#include <stdio.h>

int main(int argc, char** argv) {
  why_options options;
  if (why_options_read(argc, argv, &options) != WHY_OK)
    return WHY_QUESTION;
  if (options.version) {
    printf("whylift %s\n", why_version());
    return WHY_OK;
  }
  if (options.help || !options.command) {
    why_options_help();
    return options.help ? WHY_OK : WHY_QUESTION;
  }
  return why_commands_run(&options);
}
