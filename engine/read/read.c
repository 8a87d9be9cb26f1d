// SPDX-License-Identifier: GPL-3.0-or-later
// Finds the files of a knowledge base, reads each with the reader of its kind, and runs the checks.
#include "read.h"

#include "kind.h"
#include "leave_out.h"
#include "load.h"
#include "readers.h"
#include "study_table.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

enum { FILES_LIMIT = 20000, KINDS_LIMIT = 16 };

typedef struct {
  const char* path; ///< Relative to the knowledge base, or to where we are if `apart`.
  bool apart;       ///< It stands elsewhere.
  const why_kind* kind;
  size_t kind_index;
  const char* text;
  size_t length;
  why_cell_origins origins; ///< Of a text that was made from a table.
} source;

typedef WHY_LIST(source) source_list;

typedef struct {
  const char* folder;
  why_arena* arena;   ///< What rows refer to.
  why_arena* scratch; ///< What is not needed once all is read.
  why_problems* problems;
  source_list sources;
  const why_schema* schemas[KINDS_LIMIT]; ///< By number of kind; NULL until first used.
  bool tried[KINDS_LIMIT];                ///< A schema that is broken is reported once.
  DIR* listed;                            ///< What is open now; closed when memory runs out.
  why_reader reader;
} search;

static void leave(void* user) {
  search* run = user;
  if (run->listed)
    closedir(run->listed);
  why_xml_close(&run->reader);
}

static int by_path(const void* left, const void* right) {
  return strcmp(((const source*)left)->path, ((const source*)right)->path);
}

static void report_missing(const search* run, const char* path, const char* what,
                           const char* reason) {
  why_problems_add(run->problems, WHY_ERROR, "missing",
                   (why_place){.file = why_arena_copy(run->scratch, path, strlen(path))},
                   "the %s cannot be read: %s", what, reason);
  why_problems_hint(run->problems,
                    "a knowledge base is a folder that holds rules/ and evidence/; name it with "
                    "--knowledge DIR");
}

/// File names are shown wherever a place is shown, so they hold nothing that disturbs a terminal.
static bool has_plain_name(search* run, const why_kind* kind, const char* name) {
  for (const char* c = name; *c; c++) {
    if (*c > ' ' && *c < 0x7F)
      continue;
    why_problems_add(run->problems, WHY_ERROR, "file-name", (why_place){.file = kind->path},
                     "a file has a name with blanks, control characters or letters beyond ASCII");
    why_problems_hint(run->problems, "it is the one whose name begins with \"%.*s\"",
                      (int)(c - name), name);
    return false;
  }
  return true;
}

static void add_source(search* run, size_t kind_index, const char* name) {
  const why_kind* kind = why_kinds_at(kind_index);
  if (run->sources.count == FILES_LIMIT)
    why_problems_add(run->problems, WHY_ERROR, "size", (why_place){.file = kind->path},
                     "there are more than %d files", FILES_LIMIT);
  if (run->sources.count > FILES_LIMIT)
    return;
  *WHY_LIST_ADD(run->scratch, run->sources) =
      (source){.path = why_arena_print(run->arena, "%s%s", kind->path, name),
               .kind = kind,
               .kind_index = kind_index};
}

static void find_in_folder(search* run, size_t kind_index) {
  const why_kind* kind = why_kinds_at(kind_index);
  const char* path = why_arena_print(run->scratch, "%s/%s", run->folder, kind->path);
  run->listed = opendir(path);
  if (!run->listed) {
    report_missing(run, kind->path, "folder", strerror(errno));
    return;
  }
  for (struct dirent* entry = readdir(run->listed); entry; entry = readdir(run->listed))
    if (why_stamp_counts(entry->d_name) &&
        !(kind->except && strcmp(kind->except, entry->d_name) == 0) &&
        has_plain_name(run, kind, entry->d_name))
      add_source(run, kind_index, entry->d_name);
  closedir(run->listed);
  run->listed = NULL;
}

static bool is_there(const search* run, const char* name) {
  DIR* folder = opendir(why_arena_print(run->scratch, "%s/%s", run->folder, name));
  if (folder)
    closedir(folder);
  return folder != NULL;
}

static void find_sources(search* run) {
  const why_kind* kind;
  if (!is_there(run, "rules") && !is_there(run, "evidence")) {
    report_missing(run, run->folder, "knowledge base", "it holds neither rules/ nor evidence/");
    return;
  }
  for (size_t i = 0; i < KINDS_LIMIT && (kind = why_kinds_at(i)); i++) {
    if (kind->path[strlen(kind->path) - 1] == '/')
      find_in_folder(run, i);
    else
      add_source(run, i, "");
  }
  if (run->sources.count)
    qsort(run->sources.at, run->sources.count, sizeof *run->sources.at, by_path);
}

/// One study more, read as those of the knowledge base are.
static void add_study(search* run, const char* path) {
  size_t kind_index = 0;
  while (strcmp(why_kinds_at(kind_index)->path, "evidence/studies/") != 0)
    kind_index++;
  *WHY_LIST_ADD(run->scratch, run->sources) =
      (source){.path = why_arena_copy(run->arena, path, strlen(path)),
               .apart = true,
               .kind = why_kinds_at(kind_index),
               .kind_index = kind_index};
}

/// Put the XML of a study in the place of its table; without a sound one the text is NULL.
static void make_of_table(search* run, source* from) {
  why_buffer xml = {.arena = run->scratch};
  why_status status = why_study_table_read(from->path, from->text, from->length, run->scratch,
                                           run->problems, &xml, &from->origins);
  from->text = status == WHY_OK ? why_buffer_text(&xml) : NULL;
  from->length = xml.length;
}

/// The bytes of a source; without them its text stays NULL.
static void load(search* run, source* from) {
  const char* path =
      from->apart ? from->path : why_arena_print(run->scratch, "%s/%s", run->folder, from->path);
  const char* reason = NULL;
  from->text = why_file_load(run->scratch, path, WHY_FILE_LIMIT, &from->length, &reason);
  if (from->text) {
    if (from->apart && why_study_table_is(from->path))
      make_of_table(run, from);
    return;
  }
  report_missing(run, from->path, "file", reason);
  if (from->apart)
    why_problems_hint(run->problems, "name the XML file of a study, or a table of it (.csv)");
}

/// Fisher–Yates with a multiplicative generator: only tests ask for it.
static void shuffle(source_list* sources, uint64_t seed) {
  for (size_t i = sources->count; i > 1; i--) {
    seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    size_t other = (size_t)((seed >> 33) % i);
    source kept = sources->at[i - 1];
    sources->at[i - 1] = sources->at[other];
    sources->at[other] = kept;
  }
}

static const why_schema* schema_of(search* run, const source* from) {
  const why_schema** kept = &run->schemas[from->kind_index];
  if (!run->tried[from->kind_index])
    *kept = why_schema_open(&run->reader,
                            why_arena_print(run->scratch, "%s/%s", run->folder, from->kind->schema),
                            from->kind->schema);
  run->tried[from->kind_index] = true;
  return *kept;
}

static void read_source(search* run, const source* from, why_tables* tables) {
  why_reader* reader = &run->reader;
  *reader = (why_reader){.arena = run->arena,
                         .symbols = tables->symbols,
                         .problems = run->problems,
                         .file = from->path,
                         .text = from->text,
                         .origins = from->origins.count ? &from->origins : NULL};
  if (strlen(from->text) != from->length) {
    why_problems_add(run->problems, WHY_ERROR, "plain", (why_place){.file = from->path},
                     "only plain XML in UTF-8 is accepted");
    return;
  }
  xmlDoc* doc = why_xml_parse(reader, from->length);
  if (!doc)
    return;
  const why_schema* schema = schema_of(run, from);
  if (schema && why_schema_accepts(schema, reader, doc)) {
    from->kind->read(reader, xmlDocGetRootElement(doc), tables);
    why_census_read(reader, xmlDocGetRootElement(doc), tables);
  }
  why_xml_close(reader);
}

static const char* digest_of(search* run) {
  why_buffer all = {.arena = run->scratch};
  for (size_t i = 0; i < run->sources.count; i++) {
    const source* each = &run->sources.at[i];
    why_buffer_print(&all, "%s %zu\n", each->path, each->length);
    if (each->text)
      why_buffer_add_bytes(&all, each->text, each->length);
  }
  return why_digest_of(run->arena, why_buffer_text(&all), all.length);
}

/// Another digest for the same files without some of what they hold.
static const char* digest_without(const why_tables* tables) {
  why_buffer all = {.arena = tables->arena};
  why_buffer_add(&all, tables->digest);
  for (size_t i = 0; i < tables->without.count; i++)
    why_buffer_print(&all, " %s", why_symbols_text(tables->symbols, tables->without.at[i]));
  return why_digest_of(tables->arena, why_buffer_text(&all), all.length);
}

static why_status leave_out(why_tables* tables, const char* list, why_problems* problems) {
  why_status status = why_tables_leave_out(tables, list, problems);
  if (tables->without.count)
    tables->digest = digest_without(tables);
  return status;
}

why_status why_tables_open(const char* folder, const why_read_settings* settings, why_arena* arena,
                           why_problems* problems, why_tables** tables) {
  why_arena* scratch = why_arena_scratch(arena);
  search* run = WHY_NEW(scratch, search);
  *run = (search){.folder = folder, .arena = arena, .scratch = scratch, .problems = problems};
  why_arena_defer(scratch, leave, run);
  find_sources(run);
  if (settings && settings->study)
    add_study(run, settings->study);
  for (size_t i = 0; i < run->sources.count; i++)
    load(run, &run->sources.at[i]);
  why_tables* made = WHY_NEW(arena, why_tables);
  made->arena = arena;
  made->symbols = why_symbols_new(arena, NULL, settings ? settings->hash_seed : 0);
  made->file_count = run->sources.count;
  made->digest = digest_of(run);
  if (settings && settings->order_seed)
    shuffle(&run->sources, settings->order_seed);
  why_xml_hush(true);
  for (size_t i = 0; i < run->sources.count; i++)
    if (run->sources.at[i].text)
      read_source(run, &run->sources.at[i], made);
  why_xml_hush(false);
  why_checks_run(made, problems, why_problems_status(problems) == WHY_OK);
  *tables = made;
  why_status status = why_problems_status(problems);
  return status == WHY_OK && settings ? leave_out(made, settings->leave_out, problems) : status;
}
