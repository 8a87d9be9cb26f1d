// SPDX-License-Identifier: GPL-3.0-or-later
// libxml2 behind a narrow door: parsing within limits, and typed access to attributes and text.
#include "xml.h"

#include "position.h"

#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <math.h>
#include <string.h>

static why_place file_place(const why_reader* reader) {
  return (why_place){.file = reader->file};
}

enum { MESSAGE_LIMIT = 400 };

void why_xml_report(why_reader* reader, const char* check, why_place place, const xmlError* error) {
  const char* text = error && error->message ? error->message : "the file cannot be read";
  int length = why_text_fit(text, MESSAGE_LIMIT);
  while (length && (text[length - 1] == '\n' || text[length - 1] == ' '))
    length--;
  why_problems_add(reader->problems, WHY_ERROR, check, place, "%.*s", length, text);
}

static void report_parse_error(why_reader* reader, const xmlError* error) {
  why_place place = file_place(reader);
  if (error && error->line > 0) {
    place.line = (unsigned)error->line;
    place.column = error->int2 > 0 ? (unsigned)error->int2 : 0;
  }
  why_xml_report(reader, "well-formed", place, error);
  why_problems_hint(reader->problems, "close every element and write & as &amp; and < as &lt;");
}

static bool too_deep(const xmlNode* element, int depth) {
  if (depth > WHY_DEPTH_LIMIT)
    return true;
  for (const xmlNode* each = element->children; each; each = each->next)
    if (each->type == XML_ELEMENT_NODE && too_deep(each, depth + 1))
      return true;
  return false;
}

static bool is_plain(why_reader* reader, const xmlDoc* doc) {
  const xmlNode* root = xmlDocGetRootElement(doc);
  bool utf8 = !doc->encoding || xmlStrcasecmp(doc->encoding, (const xmlChar*)"UTF-8") == 0;
  if (!root || doc->intSubset || doc->extSubset || !utf8) {
    why_problems_add(reader->problems, WHY_ERROR, "plain", file_place(reader),
                     "only plain XML in UTF-8 is accepted");
    return false;
  }
  if (too_deep(root, 1)) {
    why_problems_add(reader->problems, WHY_ERROR, "depth", file_place(reader),
                     "elements are nested more than %d deep", WHY_DEPTH_LIMIT);
    return false;
  }
  return true;
}

static void keep_quiet(void* user, xmlErrorPtr error) {
  (void)user;
  (void)error;
}

static void say_nothing(void* user, const char* format, ...) {
  (void)user;
  (void)format;
}

void why_xml_hush(bool quiet) {
  xmlSetGenericErrorFunc(NULL, quiet ? say_nothing : NULL);
}

/// A document type is refused before libxml2 sees it: nothing of it is ever expanded.
static bool refuse_doctype(why_reader* reader) {
  why_place place = why_position_of_doctype(reader);
  if (!place.line)
    return false;
  why_problems_add(reader->problems, WHY_ERROR, "no-doctype", place,
                   "a document type declaration is not accepted here");
  why_problems_hint(reader->problems, "remove the <!DOCTYPE ...> and write its entities out");
  return true;
}

xmlDoc* why_xml_parse(why_reader* reader, size_t length) {
  if (refuse_doctype(reader))
    return NULL;
  xmlParserCtxt* context = xmlNewParserCtxt();
  if (!context)
    why_arena_exhaust(reader->arena);
  context->sax->serror = keep_quiet;
  reader->doc = xmlCtxtReadMemory(context, reader->text, (int)length, reader->file, NULL,
                                  XML_PARSE_NONET | XML_PARSE_BIG_LINES | XML_PARSE_COMPACT);
  int code = context->lastError.code;
  if (!reader->doc && code != XML_ERR_NO_MEMORY)
    report_parse_error(reader, &context->lastError);
  xmlFreeParserCtxt(context);
  if (code == XML_ERR_NO_MEMORY)
    why_arena_exhaust(reader->arena);
  if (reader->doc && !is_plain(reader, reader->doc))
    why_xml_close(reader);
  if (reader->doc)
    why_position_mark(reader, reader->doc);
  return reader->doc;
}

void why_xml_close(why_reader* reader) {
  xmlFreeDoc(reader->doc);
  reader->doc = NULL;
}

void why_xml_leave(void* reader) {
  why_xml_close(reader);
}

bool why_xml_is(const xmlNode* element, const char* name) {
  return element && element->type == XML_ELEMENT_NODE &&
         (!name || strcmp((const char*)element->name, name) == 0);
}

const char* why_xml_name(const xmlNode* element) {
  return element ? (const char*)element->name : "";
}

static const xmlNode* at_or_after(const xmlNode* node, const char* name) {
  while (node && !why_xml_is(node, name))
    node = node->next;
  return node;
}

const xmlNode* why_xml_first(const xmlNode* element, const char* name) {
  return element ? at_or_after(element->children, name) : NULL;
}

const xmlNode* why_xml_next(const xmlNode* element, const char* name) {
  return at_or_after(element->next, name);
}

size_t why_xml_count(const xmlNode* element, const char* name) {
  size_t count = 0;
  for (const xmlNode* n = why_xml_first(element, name); n; n = why_xml_next(n, name))
    count++;
  return count;
}

/// The raw value, borrowed from the tree. Without entities an attribute is one text node.
static const char* raw(const xmlNode* element, const char* attribute) {
  for (const xmlAttr* each = element ? element->properties : NULL; each; each = each->next)
    if (strcmp((const char*)each->name, attribute) == 0)
      return each->children && each->children->content ? (const char*)each->children->content : "";
  return NULL;
}

bool why_xml_has(const xmlNode* element, const char* attribute) {
  return raw(element, attribute) != NULL;
}

bool why_xml_attribute_is(const xmlNode* element, const char* attribute, const char* value) {
  const char* found = raw(element, attribute);
  return found && strcmp(found, value) == 0;
}

/// Rows hold no constants of the program, so that they can be kept (base/image.h).
static const char* no_text(const why_reader* reader) {
  return why_arena_copy(reader->arena, "", 0);
}

const char* why_xml_string(why_reader* reader, const xmlNode* element, const char* attribute) {
  const char* value = raw(element, attribute);
  return value ? why_arena_copy(reader->arena, value, strlen(value)) : no_text(reader);
}

why_symbol why_xml_symbol(why_reader* reader, const xmlNode* element, const char* attribute) {
  const char* value = raw(element, attribute);
  return value ? why_symbols_add(reader->symbols, value) : 0;
}

bool why_xml_flag(const xmlNode* element, const char* attribute) {
  return why_xml_attribute_is(element, attribute, "yes");
}

bool why_parse_number(const char* text, double* number) {
  xmlInitParser(); // Without it "not a number" comes back as 0.
  double value = xmlXPathCastStringToNumber((const xmlChar*)text);
  if (!isfinite(value))
    return false;
  *number = value;
  return true;
}

static void report_number(why_reader* reader, const xmlNode* element, const char* attribute,
                          const char* value) {
  why_problems_add(reader->problems, WHY_ERROR, "number",
                   why_xml_place_of(reader, element, attribute),
                   "%s=\"%s\" is no number that can stand here", attribute, value);
}

double why_xml_number(why_reader* reader, const xmlNode* element, const char* attribute,
                      double otherwise) {
  const char* value = raw(element, attribute);
  double number = otherwise;
  if (value && !why_parse_number(value, &number))
    report_number(reader, element, attribute, value);
  return number;
}

unsigned why_xml_whole(why_reader* reader, const xmlNode* element, const char* attribute) {
  double number = why_xml_number(reader, element, attribute, 0);
  if (number >= 0 && number <= WHY_WHOLE_LIMIT && number == floor(number))
    return (unsigned)number;
  report_number(reader, element, attribute, raw(element, attribute));
  return 0;
}

static const char BLANKS[] = " \t\r\n";

why_symbol_list why_xml_symbols(why_reader* reader, const xmlNode* element, const char* attribute) {
  why_symbol_list list = {0};
  const char* rest = raw(element, attribute);
  for (rest = rest ? rest : ""; *(rest += strspn(rest, BLANKS));) {
    size_t length = strcspn(rest, BLANKS);
    *WHY_LIST_ADD(reader->arena, list) = why_symbols_add_bytes(reader->symbols, rest, length);
    rest += length;
  }
  return list;
}

size_t why_xml_numbers(why_reader* reader, const xmlNode* element, const char* attribute,
                       double* values, size_t room) {
  size_t count = 0;
  const char* rest = raw(element, attribute);
  for (rest = rest ? rest : ""; *(rest += strspn(rest, BLANKS)) && count < room;) {
    size_t length = strcspn(rest, BLANKS);
    const char* word = why_arena_copy(why_arena_scratch(reader->arena), rest, length);
    if (!why_parse_number(word, &values[count++]))
      report_number(reader, element, attribute, word);
    rest += length;
  }
  return count;
}

static void fold_into(why_buffer* buffer, const char* text) {
  for (const char* rest = text; *(rest += strspn(rest, BLANKS));) {
    size_t length = strcspn(rest, BLANKS);
    if (buffer->length)
      why_buffer_add(buffer, " ");
    why_buffer_add_bytes(buffer, rest, length);
    rest += length;
  }
}

const char* why_xml_text(why_reader* reader, const xmlNode* element) {
  why_buffer buffer = {.arena = reader->arena};
  for (const xmlNode* each = element ? element->children : NULL; each; each = each->next)
    if (each->type == XML_TEXT_NODE || each->type == XML_CDATA_SECTION_NODE)
      fold_into(&buffer, (const char*)each->content);
  return why_buffer_text(&buffer);
}

const char* why_xml_child_text(why_reader* reader, const xmlNode* element, const char* name) {
  const xmlNode* child = why_xml_first(element, name);
  return child ? why_xml_text(reader, child) : no_text(reader);
}

void why_xml_each_attribute(const xmlNode* element,
                            void (*each)(void* user, const char* name, const char* value),
                            void* user) {
  for (const xmlAttr* at = element ? element->properties : NULL; at; at = at->next)
    each(user, (const char*)at->name,
         at->children && at->children->content ? (const char*)at->children->content : "");
}
