// SPDX-License-Identifier: GPL-3.0-or-later
/// Where the elements of a study go, one after the other: into a file, into a table.
#ifndef WHY_READ_STUDY_SINK_H
#define WHY_READ_STUDY_SINK_H

#include "base/base.h"

/// Called in the order of the document. Attributes come before content and children; an element
/// has content or children, not both.
typedef struct {
  void (*open)(void* user, const char* element);
  void (*attribute)(void* user, const char* name, const char* value);
  void (*content)(void* user, const char* text);
  void (*close)(void* user);
  void (*comment)(void* user, const char* text);
  void* user;
} why_study_sink;

#endif
