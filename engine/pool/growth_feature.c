// SPDX-License-Identifier: GPL-3.0-or-later
// From postures to what could make a head grow.
#include "growth_feature.h"

struct why_workbook {
  const why_tables* tables;
  bool plain;
  const why_feature* const* known; ///< By exercise, or NULL.
  why_arena* arena;
  const why_frame* frame;
  why_sharer* sharer;
  why_feature* features; ///< Room for those of one exercise.
  const why_work** of_exercise;
};

why_status why_workbook_new(const why_tables* tables, bool plain,
                            const why_feature* const* features, why_arena* arena,
                            why_workbook** result) {
  why_workbook* book = WHY_NEW(arena, why_workbook);
  *book = (why_workbook){.tables = tables, .plain = plain, .known = features, .arena = arena};
  book->of_exercise = WHY_NEW_ARRAY(arena, const why_work*, tables->exercises.rows.count + 1);
  book->features = WHY_NEW_ARRAY(arena, why_feature, tables->anatomy.heads.count + 1);
  *result = book;
  const why_body_model* model;
  why_muscles* muscles;
  book->frame = why_frame_new(tables, arena);
  why_status status = why_body_model_new(book->frame, tables, 0, 0, arena, &model);
  if (status == WHY_OK)
    status = why_muscles_new(model, arena, &muscles);
  return status == WHY_OK ? why_sharer_new(muscles, arena, &book->sharer) : status;
}

/// Stress counts while the head moves the exercise: the greatest near failure. Its length is the
/// mean over the path, weighted by stress.
static const why_work* work_of(const why_workbook* book, const why_feature* features) {
  size_t count = book->tables->anatomy.heads.count;
  why_work* work = WHY_NEW_ARRAY(book->arena, why_work, count + 1);
  for (size_t h = 0; h < count; h++) {
    const why_feature* f = &features[h];
    if (book->plain)
      work[h] = (why_work){1, 1};
    else
      work[h] = (why_work){f->moves ? f->peak : 0,
                           f->moving > 0 ? f->moving_length / f->moving : f->peak_length};
  }
  return work;
}

static const why_feature* features_of(const why_workbook* book, const why_exercise* exercise) {
  if (!book->plain)
    why_features_find(book->sharer, why_effort_find(book->sharer, exercise), book->features);
  return book->features;
}

const why_work* why_workbook_exercise(why_workbook* book, size_t exercise) {
  const why_work** kept = &book->of_exercise[exercise];
  if (!*kept)
    *kept =
        work_of(book, book->known ? book->known[exercise]
                                  : features_of(book, &book->tables->exercises.rows.at[exercise]));
  return *kept;
}

const why_work* why_workbook_trained(why_workbook* book, size_t exercise, const why_trained* did) {
  const why_exercise* row = &book->tables->exercises.rows.at[exercise];
  const why_exercise* done = book->plain ? row : why_variant_of(book->frame, row, did, book->arena);
  return done == row ? why_workbook_exercise(book, exercise)
                     : work_of(book, features_of(book, done));
}
