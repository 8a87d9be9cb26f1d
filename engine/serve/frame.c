// SPDX-License-Identifier: GPL-3.0-or-later
// The frame of every page is page.html; @words@ in it are filled in here.
#include "page.h"

#include <string.h>

/// The bytes of page.html, written by the build.
extern const char WHY_SERVE_FRAME[];

static const struct {
  const char* path;
  const char* name;
} TABS[] = {{"/pick", "Pick"},   {"/swap", "Swap"},   {"/why", "Why"},     {"/compare", "Compare"},
            {"/ask", "Ask"},     {"/plan", "Plan"},   {"/audit", "Audit"}, {"/pool", "Trials"},
            {"/draft", "Draft"}, {"/class", "Class"}, {"/carry", "Carry"}};

static void add_tabs(why_bytes* out, const char* tab) {
  for (size_t i = 0; i < sizeof TABS / sizeof *TABS; i++) {
    why_bytes_print(out, "<a href=\"%s\"%s>%s</a>\n", TABS[i].path,
                    strcmp(TABS[i].path, tab) == 0 ? " aria-current=\"page\"" : "", TABS[i].name);
  }
}

/// Where the main part goes: the frame is cut there.
static const char* find_main(void) {
  return strstr(WHY_SERVE_FRAME, "@main@");
}

void why_page_open(why_bytes* out, const char* title, const char* tab, const char* kind) {
  const char* end = find_main();
  for (const char* rest = WHY_SERVE_FRAME; rest < end;) {
    const char* stop = strchr(rest, '@');
    why_bytes_add(out, rest, (size_t)(stop - rest));
    rest = stop;
    if (strncmp(rest, "@title@", 7) == 0)
      why_bytes_markup(out, title);
    else if (strncmp(rest, "@kind@", 6) == 0)
      why_bytes_text(out, kind);
    else if (strncmp(rest, "@tabs@", 6) == 0)
      add_tabs(out, tab);
    if (rest < end)
      rest = strchr(rest + 1, '@') + 1;
  }
}

void why_page_close(why_bytes* out) {
  why_bytes_text(out, find_main() + strlen("@main@"));
}
