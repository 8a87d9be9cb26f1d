// SPDX-License-Identifier: GPL-3.0-or-later
/// Files that people name on the command line.
#ifndef WHY_CLI_FILE_H
#define WHY_CLI_FILE_H

#include "whylift/whylift.h"

/// Read at most `limit` bytes of the file at `path`, or of standard input for "-". `*text` is
/// terminated and freed by the caller. After a message, WHY_QUESTION for what is no file or too
/// large, WHY_MACHINE without memory.
why_status why_file_read(const char* path, size_t limit, char** text, size_t* length);

#endif
