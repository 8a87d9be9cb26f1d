// SPDX-License-Identifier: GPL-3.0-or-later
// Validation against RELAX NG, with one message a line of the file.
#include "xml.h"

#include <libxml/relaxng.h>
#include <string.h>

struct why_schema {
  const char* name; ///< File name without its folder.
  xmlRelaxNG* grammar;
};

static void keep_quiet(void* user, xmlErrorPtr error) {
  (void)user;
  (void)error;
}

static void free_grammar(void* grammar) {
  xmlRelaxNGFree(grammar);
}

const why_schema* why_schema_open(why_reader* reader, const char* path, const char* shown) {
  xmlRelaxNGParserCtxt* parser = xmlRelaxNGNewParserCtxt(path);
  xmlRelaxNG* grammar = NULL;
  if (parser) {
    xmlRelaxNGSetParserStructuredErrors(parser, (xmlStructuredErrorFunc)keep_quiet, NULL);
    grammar = xmlRelaxNGParse(parser);
    xmlRelaxNGFreeParserCtxt(parser);
  }
  if (!grammar) {
    why_problems_add(reader->problems, WHY_ERROR, "schema-file", (why_place){.file = shown},
                     "the schema is missing or is not a RELAX NG schema");
    return NULL;
  }
  why_arena_defer(reader->arena, free_grammar, grammar);
  const char* slash = strrchr(path, '/');
  why_schema* made = WHY_NEW(reader->arena, why_schema);
  *made = (why_schema){.name = slash ? slash + 1 : path, .grammar = grammar};
  return made;
}

typedef struct {
  why_reader* reader;
  const why_schema* schema;
  unsigned shown;
  unsigned last_line;
} validation;

/// libxml2 reports the innermost mismatch first and then each element around it; only the first
/// report on a line is worth showing.
static void report_mismatch(void* user, xmlErrorPtr error) {
  validation* run = user;
  why_place place = {.file = run->reader->file};
  if (error->node)
    place = why_xml_place(run->reader, error->node);
  else if (error->line > 0)
    place.line = (unsigned)error->line;
  if (run->shown && place.line <= run->last_line)
    return;
  run->shown++;
  run->last_line = place.line;
  why_problems_add(run->reader->problems, WHY_ERROR, "schema", place, "%s",
                   why_xml_message(run->reader, error));
  why_problems_hint(run->reader->problems, "%s says in its comments what may stand here",
                    run->schema->name);
}

bool why_schema_accepts(const why_schema* schema, why_reader* reader, xmlDoc* doc) {
  xmlRelaxNGValidCtxt* context = xmlRelaxNGNewValidCtxt(schema->grammar);
  if (!context) {
    why_problems_add(reader->problems, WHY_ERROR, "schema", (why_place){.file = reader->file},
                     "there is no memory to check the file");
    return false;
  }
  validation run = {.reader = reader, .schema = schema};
  xmlRelaxNGSetValidStructuredErrors(context, (xmlStructuredErrorFunc)report_mismatch, &run);
  bool fits = xmlRelaxNGValidateDoc(context, doc) == 0;
  if (!fits && !run.shown)
    why_problems_add(reader->problems, WHY_ERROR, "schema", (why_place){.file = reader->file},
                     "the file does not fit %s", schema->name);
  xmlRelaxNGFreeValidCtxt(context);
  return fits;
}
