// SPDX-License-Identifier: GPL-3.0-or-later
// The table of formats.
#include "format.h"

#include <string.h>

static const why_format FORMATS[] = {
    {"text", why_text_write}, {"json", why_json_write},
    {"html", why_page_write}, {"html-part", why_page_part_write},
    {"svg", why_sheet_write}, {"dot", why_dot_write},
    {"csv", why_csv_write},   {"xml", why_xml_write},
    {"ical", why_ical_write},
};

const why_format* why_formats_at(size_t index) {
  return index < sizeof FORMATS / sizeof *FORMATS ? &FORMATS[index] : NULL;
}

const why_format* why_formats_find(const char* name) {
  const why_format* format;
  for (size_t i = 0; (format = why_formats_at(i)); i++)
    if (strcmp(format->name, name) == 0)
      return format;
  return NULL;
}
