// SPDX-License-Identifier: GPL-3.0-or-later
// Validation against RELAX NG, with one message a line of the file. A schema is a file like any
// other: read within limits, without a document type, and complete in itself, since libxml2 would
// follow a reference to another schema anywhere, even into the network.
#include "load.h"
#include "position.h"
#include "xml.h"

#include <libxml/relaxng.h>
#include <string.h>

struct why_schema {
  const char* name; ///< File name without its folder.
  xmlRelaxNG* grammar;
};

static void free_grammar(void* grammar) {
  xmlRelaxNGFree(grammar);
}

/// The first element that names another file.
static const xmlNode* find_reference(const xmlNode* element) {
  if (why_xml_is(element, "include") || why_xml_is(element, "externalRef"))
    return element;
  const xmlNode* found = NULL;
  for (const xmlNode* each = why_xml_first(element, NULL); each && !found;
       each = why_xml_next(each, NULL))
    found = find_reference(each);
  return found;
}

/// Where the schema is wrong: the first of all that libxml2 has to say.
typedef struct {
  why_reader* reader;
  bool told;
  bool exhausted;
} fault;

static void report_fault(void* user, xmlErrorPtr error) {
  fault* first = user;
  first->exhausted = first->exhausted || error->code == XML_ERR_NO_MEMORY;
  if (first->told || first->exhausted)
    return;
  why_place place = {.file = first->reader->file};
  long line = error->node ? xmlGetLineNo(error->node) : 0; // a node of libxml2's own copy
  place.line = line > 0 ? (unsigned)line : 0;
  why_xml_report(first->reader, "schema-file", place, error);
  first->told = true;
}

static xmlRelaxNG* compile(why_reader* reader) {
  xmlRelaxNGParserCtxt* parser = xmlRelaxNGNewDocParserCtxt(reader->doc);
  if (!parser)
    why_arena_exhaust(reader->arena);
  fault first = {.reader = reader};
  xmlRelaxNGSetParserStructuredErrors(parser, (xmlStructuredErrorFunc)report_fault, &first);
  xmlRelaxNG* grammar = xmlRelaxNGParse(parser);
  xmlRelaxNGFreeParserCtxt(parser);
  if (first.exhausted) {
    xmlRelaxNGFree(grammar);
    why_arena_exhaust(reader->arena);
  }
  if (!grammar && !first.told)
    why_problems_add(reader->problems, WHY_ERROR, "schema-file", (why_place){.file = reader->file},
                     "this is not a RELAX NG schema");
  return grammar;
}

/// Parse the schema that `reader` has loaded; NULL after reporting.
static xmlRelaxNG* read_grammar(why_reader* reader, size_t length) {
  const xmlDoc* doc = why_xml_parse(reader, length);
  if (!doc)
    return NULL;
  const xmlNode* reference = find_reference(xmlDocGetRootElement(doc));
  if (!reference)
    return compile(reader);
  why_problems_add(reader->problems, WHY_ERROR, "schema-file", why_xml_place(reader, reference),
                   "a schema must not refer to other files");
  return NULL;
}

/// A reader of the schema's own file, while `reader` is about another.
static why_reader* own_reader(const why_reader* reader, const char* shown) {
  why_arena* scratch = why_arena_scratch(reader->arena);
  why_reader* own = WHY_NEW(scratch, why_reader);
  *own = (why_reader){.arena = scratch, .problems = reader->problems, .file = shown};
  why_arena_defer(scratch, why_xml_leave, own);
  return own;
}

/// Compile what `own` has loaded.
static const why_schema* make(why_reader* own, size_t length) {
  xmlRelaxNG* grammar = read_grammar(own, length);
  why_xml_close(own);
  if (!grammar)
    return NULL;
  why_arena_defer(own->arena, free_grammar, grammar);
  const char* slash = strrchr(own->file, '/');
  why_schema* made = WHY_NEW(own->arena, why_schema);
  *made = (why_schema){.name = slash ? slash + 1 : own->file, .grammar = grammar};
  return made;
}

const why_schema* why_schema_open(const why_reader* reader, const char* path, const char* shown) {
  why_reader* own = own_reader(reader, shown);
  size_t length = 0;
  const char* reason = NULL;
  own->text = why_file_load(own->arena, path, WHY_FILE_LIMIT, &length, &reason);
  if (own->text)
    return make(own, length);
  why_problems_add(own->problems, WHY_ERROR, "schema-file", (why_place){.file = shown},
                   "the schema cannot be read: %s", reason);
  return NULL;
}

const why_schema* why_schema_read(const why_reader* reader, const char* text, size_t length,
                                  const char* shown) {
  why_reader* own = own_reader(reader, shown);
  own->text = text;
  return make(own, length);
}

typedef struct {
  why_reader* reader;
  const why_schema* schema;
  unsigned shown;
  unsigned last_line;
  bool exhausted;
} validation;

/// libxml2 reports the innermost mismatch first and then each element around it; only the first
/// report on a line is worth showing.
static void report_mismatch(void* user, xmlErrorPtr error) {
  validation* run = user;
  run->exhausted = run->exhausted || error->code == XML_ERR_NO_MEMORY;
  why_place place = {.file = run->reader->file};
  if (error->node)
    place = why_xml_place(run->reader, error->node);
  else if (error->line > 0)
    place.line = (unsigned)error->line;
  if (run->exhausted || (run->shown && place.line <= run->last_line))
    return;
  run->shown++;
  run->last_line = place.line;
  why_xml_report(run->reader, "schema", place, error);
  why_problems_hint(run->reader->problems, "%s says in its comments what may stand here",
                    run->schema->name);
}

bool why_schema_accepts(const why_schema* schema, why_reader* reader, xmlDoc* doc) {
  xmlRelaxNGValidCtxt* context = xmlRelaxNGNewValidCtxt(schema->grammar);
  if (!context)
    why_arena_exhaust(reader->arena);
  validation run = {.reader = reader, .schema = schema};
  xmlRelaxNGSetValidStructuredErrors(context, (xmlStructuredErrorFunc)report_mismatch, &run);
  bool fits = xmlRelaxNGValidateDoc(context, doc) == 0;
  xmlRelaxNGFreeValidCtxt(context);
  if (run.exhausted)
    why_arena_exhaust(reader->arena);
  if (!fits && !run.shown)
    why_problems_add(reader->problems, WHY_ERROR, "schema", (why_place){.file = reader->file},
                     "the file does not fit %s", schema->name);
  return fits;
}
