// SPDX-License-Identifier: GPL-3.0-or-later
// A start tag is closed when it is known what follows: content on its line, children below it, or
// nothing.
#include "xml_layout.h"

#include <string.h>

enum { COLUMNS = 108 };

static size_t column(const why_buffer* out) {
  size_t at = out->length;
  while (at && out->text[at - 1] != '\n')
    at--;
  return out->length - at;
}

static void indent(const why_xml_layout* layout) {
  for (int i = 0; i < layout->depth; i++)
    why_buffer_add(layout->out, "  ");
}

static void escape(why_buffer* out, const char* text, bool in_attribute) {
  for (; *text; text++) {
    if (*text == '&')
      why_buffer_add(out, "&amp;");
    else if (*text == '<')
      why_buffer_add(out, "&lt;");
    else if (*text == '>')
      why_buffer_add(out, "&gt;");
    else if (*text == '"' && in_attribute)
      why_buffer_add(out, "&quot;");
    else
      why_buffer_add_bytes(out, text, 1);
  }
}

/// End the start tag of an element with children.
static void end_tag(why_xml_layout* layout) {
  if (layout->tag_open)
    why_buffer_add(layout->out, ">\n");
  layout->tag_open = false;
}

static void open(void* user, const char* element) {
  why_xml_layout* layout = user;
  end_tag(layout);
  indent(layout);
  why_buffer_print(layout->out, "<%s", element);
  layout->attribute_column = column(layout->out) + 1;
  layout->names[layout->depth++] = element;
  layout->tag_open = true;
  layout->has_content = false;
}

static void attribute(void* user, const char* name, const char* value) {
  const why_xml_layout* layout = user;
  why_buffer* out = layout->out;
  if (!*value)
    return;
  size_t length = strlen(name) + strlen(value) + 4;
  if (column(out) + length > COLUMNS && column(out) > layout->attribute_column) {
    why_buffer_add(out, "\n");
    for (size_t i = 0; i < layout->attribute_column; i++)
      why_buffer_add(out, " ");
  } else {
    why_buffer_add(out, " ");
  }
  why_buffer_print(out, "%s=\"", name);
  escape(out, value, true);
  why_buffer_add(out, "\"");
}

static void content(void* user, const char* text) {
  why_xml_layout* layout = user;
  if (!*text)
    return;
  why_buffer_add(layout->out, ">");
  escape(layout->out, text, false);
  layout->tag_open = false;
  layout->has_content = true;
}

static void close(void* user) {
  why_xml_layout* layout = user;
  const char* name = layout->names[--layout->depth];
  if (layout->tag_open) {
    why_buffer_add(layout->out, "/>\n");
  } else {
    if (!layout->has_content)
      indent(layout);
    why_buffer_print(layout->out, "</%s>\n", name);
  }
  layout->tag_open = false;
  layout->has_content = false;
}

/// Two hyphens must not stand in a comment.
static void comment(void* user, const char* text) {
  why_xml_layout* layout = user;
  end_tag(layout);
  indent(layout);
  why_buffer_add(layout->out, "<!-- ");
  for (; *text; text++) {
    why_buffer_add_bytes(layout->out, text, 1);
    if (*text == '-' && text[1] == '-')
      why_buffer_add(layout->out, " ");
  }
  why_buffer_add(layout->out, " -->\n");
}

void why_xml_layout_start(why_xml_layout* layout) {
  why_buffer_add(layout->out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
}

why_study_sink why_xml_layout_sink(why_xml_layout* layout) {
  return (why_study_sink){open, attribute, content, close, comment, layout};
}
