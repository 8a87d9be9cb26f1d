// SPDX-License-Identifier: GPL-3.0-or-later
// The size is asked first, so that nothing is open while memory is asked for: an arena that is
// exhausted leaves at once.
#include "load.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/// One read, begun anew when a signal came between; -1 with errno set when it fails.
static ssize_t read_some(int file, char* to, size_t room) {
  ssize_t got;
  do
    got = read(file, to, room);
  while (got < 0 && errno == EINTR);
  return got;
}

/// Up to `room` bytes; returns why not, or NULL. A pipe that took the file's place is not waited
/// for.
static const char* read_all(const char* path, char* to, size_t room, size_t* length) {
  int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  if (file < 0)
    return strerror(errno);
  const char* reason = NULL;
  for (*length = 0; *length < room;) {
    ssize_t got = read_some(file, to + *length, room - *length);
    if (got < 0)
      reason = strerror(errno);
    if (got <= 0)
      break;
    *length += (size_t)got;
  }
  close(file);
  return reason;
}

const char* why_file_load(why_arena* arena, const char* path, size_t limit, size_t* length,
                          const char** reason) {
  struct stat found;
  *length = 0;
  if (stat(path, &found) != 0)
    *reason = strerror(errno);
  else if (!S_ISREG(found.st_mode))
    *reason = "it is not a regular file";
  else if (found.st_size > (off_t)limit)
    *reason = why_arena_print(arena, "it is larger than %zu bytes", limit);
  else {
    char* bytes = why_arena_alloc(arena, (size_t)found.st_size + 1);
    *reason = read_all(path, bytes, (size_t)found.st_size, length);
    return *reason ? NULL : bytes;
  }
  return NULL;
}
