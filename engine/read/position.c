// SPDX-License-Identifier: GPL-3.0-or-later
// Walks the text of a well-formed file from start tag to start tag. What it steps over: comments,
// CDATA sections, processing instructions, end tags, and quoted values inside a tag.
#include "position.h"

#include <ctype.h>
#include <string.h>

static const char* after(const char* text, const char* mark) {
  const char* found = strstr(text, mark);
  return found ? found + strlen(mark) : text + strlen(text);
}

static const char* end_of_tag(const char* text) {
  while (*text && *text != '>') {
    if (*text == '"' || *text == '\'') {
      const char* close = strchr(text + 1, *text);
      text = close ? close : text + strlen(text) - 1;
    }
    text++;
  }
  return text;
}

/// The next '<' that opens an element or a document type, from `text` on; at the end of the text
/// when there is none.
static const char* next_opening(const char* text) {
  while (*(text += strcspn(text, "<"))) {
    if (strncmp(text, "<!--", 4) == 0)
      text = after(text + 4, "-->");
    else if (strncmp(text, "<![CDATA[", 9) == 0)
      text = after(text, "]]>");
    else if (text[1] == '?')
      text = after(text, "?>");
    else if (text[1] == '/')
      text = end_of_tag(text);
    else
      return text;
  }
  return text;
}

/// A spot in the text, with its line and column counted along the way.
typedef struct {
  const char* here;
  unsigned line;
  unsigned column;
} spot;

static spot move_to(spot from, const char* to) {
  while (from.here < to && *from.here) {
    from.column++;
    if (*from.here++ == '\n') {
      from.line++;
      from.column = 1;
    }
  }
  return from;
}

static spot mark_element(why_reader* reader, xmlNode* element, spot from) {
  spot start = move_to(from, next_opening(from.here));
  spot* kept = WHY_NEW(why_arena_scratch(reader->arena), spot);
  *kept = start;
  element->_private = kept;
  spot last = move_to(start, end_of_tag(start.here));
  for (xmlNode* each = element->children; each; each = each->next)
    if (each->type == XML_ELEMENT_NODE)
      last = mark_element(reader, each, last);
  return last;
}

void why_position_mark(why_reader* reader, xmlDoc* doc) {
  xmlNode* root = xmlDocGetRootElement(doc);
  if (root)
    mark_element(reader, root, (spot){.here = reader->text, .line = 1, .column = 1});
}

/// The cell that the byte at `offset` was made from.
static why_place origin_of(const why_cell_origins* origins, size_t offset) {
  size_t low = 0;
  for (size_t high = origins->count; high - low > 1;) {
    size_t middle = low + (high - low) / 2;
    if (origins->at[middle].offset <= offset)
      low = middle;
    else
      high = middle;
  }
  return origins->at[low].place;
}

static why_place place_of_spot(const why_reader* reader, spot at) {
  if (reader->origins && reader->origins->count)
    return origin_of(reader->origins, (size_t)(at.here - reader->text));
  return (why_place){.file = reader->file, .line = at.line, .column = at.column};
}

why_place why_position_of_doctype(const why_reader* reader) {
  for (const char* here = next_opening(reader->text); *here; here = next_opening(end_of_tag(here)))
    if (strncmp(here, "<!DOCTYPE", 9) == 0)
      return place_of_spot(reader,
                           move_to((spot){.here = reader->text, .line = 1, .column = 1}, here));
  return (why_place){.file = reader->file};
}

why_place why_xml_place(const why_reader* reader, const xmlNode* element) {
  while (element && element->type != XML_ELEMENT_NODE)
    element = element->parent;
  if (!element)
    return (why_place){.file = reader->file};
  return place_of_spot(reader, *(const spot*)element->_private);
}

why_place why_xml_place_of(const why_reader* reader, const xmlNode* element,
                           const char* attribute) {
  if (!element)
    return (why_place){.file = reader->file};
  spot tag = *(const spot*)element->_private;
  const char* end = end_of_tag(tag.here);
  size_t length = strlen(attribute);
  for (const char* here = tag.here; here < end; here++) {
    if (*here == '"' || *here == '\'') {
      here = strchr(here + 1, *here);
      if (!here)
        break;
    } else if (isspace((unsigned char)*here) && strncmp(here + 1, attribute, length) == 0 &&
               strchr("= \t\r\n", here[1 + length])) {
      return place_of_spot(reader, move_to(tag, here + 1));
    }
  }
  return why_xml_place(reader, element);
}
