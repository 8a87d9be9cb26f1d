// SPDX-License-Identifier: GPL-3.0-or-later
// Looks at the marks of a picture, not at its bytes.
#include "tell/marks.h"

#include <criterion/criterion.h>
#include <libxml/parser.h>
#include <string.h>

bool marks_say(const why_picture* picture, const char* words) {
  for (size_t i = 0; i < picture->marks.count; i++)
    if (picture->marks.at[i].words && strcmp(picture->marks.at[i].words, words) == 0)
      return true;
  return false;
}

static bool holds(const why_picture* picture, const why_box* box) {
  return box->left >= -0.5 && box->top >= -0.5 && box->right <= picture->width + 0.5 &&
         box->bottom <= picture->height + 0.5;
}

static why_box bounds_of(const why_mark* mark) {
  if (mark->shape == WHY_SHAPE_WORDS)
    return why_words_box(mark);
  why_box box = {1e9, 1e9, -1e9, -1e9};
  for (size_t i = 0; i < mark->count; i++)
    why_box_widen(&box, mark->spots[i], mark->radius);
  return box;
}

void marks_check(const why_picture* picture, const char* name) {
  for (size_t i = 0; i < picture->marks.count; i++) {
    const why_mark* a = &picture->marks.at[i];
    why_box own = bounds_of(a);
    cr_expect(holds(picture, &own), "%s: %s leaves the picture \"%s\"", name,
              a->words ? a->words : "a mark", picture->title);
    for (size_t k = i + 1; a->shape == WHY_SHAPE_WORDS && k < picture->marks.count; k++) {
      const why_mark* b = &picture->marks.at[k];
      if (b->shape != WHY_SHAPE_WORDS)
        continue;
      why_box other = why_words_box(b);
      cr_expect(!why_box_meets(&own, &other), "%s: \"%s\" covers \"%s\" in \"%s\"", name, a->words,
                b->words, picture->title);
    }
  }
}

void marks_check_xml(const char* text, size_t length, const char* name) {
  xmlDocPtr doc = xmlReadMemory(text, (int)length, "picture.svg", NULL,
                                XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
  cr_expect_not_null(doc, "%s is not well-formed", name);
  xmlFreeDoc(doc);
}
