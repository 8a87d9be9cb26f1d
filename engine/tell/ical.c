// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as a calendar (RFC 5545): every node with a date is an appointment of that weekday for
// some weeks, all day long, so that no time zone matters. Lines end with CR LF and are folded at 75
// octets between characters (section 3.1); texts are escaped (3.3.11).
#include "format.h"

#include <string.h>

enum { FOLD = 75 };

typedef struct {
  why_buffer* out;
  why_buffer text; ///< Description of the appointment at hand.
  const why_node* event;
  int depth;
  int entries;
  bool any;
} state;

/// Bytes of the character at `text`.
static size_t character(const char* text) {
  size_t length = 1;
  while (((unsigned char)text[length] & 0xC0) == 0x80)
    length++;
  return length;
}

static void add_line(state* at, const char* line) {
  size_t column = 0;
  for (size_t length; *line; line += length, column += length) {
    length = character(line);
    if (column + length > FOLD) {
      why_buffer_add(at->out, "\r\n ");
      column = 1;
    }
    why_buffer_add_bytes(at->out, line, length);
  }
  why_buffer_add(at->out, "\r\n");
}

static const char* escaped(const state* at, const char* name, const char* text) {
  why_buffer line = {.arena = at->out->arena};
  why_buffer_print(&line, "%s:", name);
  for (; *text; text++) {
    if (*text == '\n')
      why_buffer_add(&line, "\\n");
    else if (strchr("\\;,", *text))
      why_buffer_print(&line, "\\%c", *text);
    else if ((unsigned char)*text >= ' ')
      why_buffer_add_bytes(&line, text, 1);
  }
  return why_buffer_text(&line);
}

static void add_event(state* at) {
  why_arena* arena = at->out->arena;
  const char* date = at->event->date;
  const char* day = why_arena_print(arena, "%.4s%.2s%.2s", date, date + 5, date + 8);
  const char* text = why_buffer_text(&at->text);
  add_line(at, "BEGIN:VEVENT");
  add_line(at, why_arena_print(arena, "UID:%s-%s@whylift.invalid", day,
                               why_digest_of(arena, text, strlen(text))));
  add_line(at, why_arena_print(arena, "DTSTAMP:%sT000000Z", day));
  add_line(at, why_arena_print(arena, "DTSTART;VALUE=DATE:%s", day));
  add_line(at, why_arena_print(arena, "RRULE:FREQ=WEEKLY;COUNT=%d", at->event->weeks));
  add_line(at, "TRANSP:TRANSPARENT");
  add_line(at, escaped(at, "SUMMARY", at->event->words));
  add_line(at, escaped(at, "DESCRIPTION", text));
  add_line(at, "END:VEVENT");
}

static void enter(void* user, const why_node* node, int depth) {
  state* at = user;
  if (node->date && !at->event) {
    at->event = node;
    at->depth = depth;
    at->entries = 0;
    at->any = true;
    at->text = (why_buffer){.arena = at->out->arena};
  } else if (at->event && node->words && node->role == WHY_ROLE_ENTRY) {
    why_buffer_print(&at->text, "%s%d. %s", at->entries ? "\n" : "", at->entries + 1, node->words);
    at->entries++;
  } else if (at->event && node->words && node->role == WHY_ROLE_POINT) {
    why_buffer_print(&at->text, "\n   %s", node->words);
  }
}

static void leave(void* user, const why_node* node, int depth) {
  state* at = user;
  if (node != at->event || depth != at->depth)
    return;
  add_event(at);
  at->event = NULL;
}

bool why_ical_write(const why_node* root, why_buffer* out) {
  static const why_walk WALK = {enter, leave};
  state at = {.out = out};
  add_line(&at, "BEGIN:VCALENDAR");
  add_line(&at, "VERSION:2.0");
  add_line(&at, "PRODID:-//whylift//plan//EN");
  add_line(&at, "CALSCALE:GREGORIAN");
  why_node_walk(root, &WALK, &at, 0);
  add_line(&at, "END:VCALENDAR");
  return at.any;
}
