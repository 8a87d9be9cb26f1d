// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting a sentence into words, numbers and marks, and mending their spelling.
#include "ask.h"

#include <string.h>

/// Marks that stand for a word.
static const char* word_of_mark(const char* mark) {
  return strcmp(mark, "&") == 0 || strcmp(mark, "/") == 0 ? "and" : mark;
}

static bool is_blank(char c) {
  return c == '\0' || c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/// A hyphen inside a word or a range joins; alone it is a dash.
static bool is_hyphen(const char* sentence, size_t start, size_t end) {
  return end - start == 1 && sentence[start] == '-' && start && !is_blank(sentence[start - 1]) &&
         !is_blank(sentence[end]);
}

/// A sign beyond ASCII, such as a small picture, or a mark that belongs to one.
static bool is_sign(const char* typed) {
  size_t length = 1;
  while (((unsigned char)typed[length] & 0xC0) == 0x80)
    length++;
  return (unsigned char)*typed >= 0x80 && !typed[length];
}

static void add_word(why_asking* asking, const char* typed, size_t end) {
  why_ask_word* word = WHY_LIST_ADD(asking->question->arena, asking->words);
  const char* key = why_spell_key(asking->question->arena, typed, false);
  word->typed = typed;
  word->end = end;
  word->number = *typed >= '0' && *typed <= '9';
  word->read = word->number ? typed : *key ? key : word_of_mark(typed);
  word->mark = is_sign(typed) || (!*key && word->read == typed);
}

static why_status refuse_size(why_question* question, const char* sentence) {
  why_question_refuse(question, "ask", "the sentence is too long", sentence);
  why_problems_hint(question->problems, "at most %d bytes and %d words", WHY_SENTENCE_LIMIT,
                    WHY_ASK_WORDS_LIMIT);
  return WHY_QUESTION;
}

why_status why_ask_cut(why_asking* asking, const char* sentence) {
  why_question* question = asking->question;
  if (strlen(sentence) > WHY_SENTENCE_LIMIT)
    return refuse_size(question, sentence);
  const why_regex* cutter = why_phrases_cutter(question->ground->phrases);
  size_t start = 0, end = 0;
  why_match_result found;
  while ((found = why_regex_find(cutter, sentence, end, question->arena, &asking->cutting, &start,
                                 &end)) == WHY_MATCH) {
    if (asking->words.count == WHY_ASK_WORDS_LIMIT)
      return refuse_size(question, sentence);
    if (!is_hyphen(sentence, start, end))
      add_word(asking, why_arena_copy(question->arena, sentence + start, end - start), end);
  }
  if (found == WHY_MATCH_FAILED)
    return why_question_refuse(question, "ask", "this is not text in UTF-8", sentence);
  return WHY_OK;
}

static bool is_known(const why_asking* asking, const char* word) {
  const why_ground* ground = asking->question->ground;
  why_arena* arena = asking->question->arena;
  return why_phrases_know(ground->phrases, arena, word) ||
         why_words_find(ground->words, arena, word, WHY_MEANS_ANY).count;
}

void why_ask_mend(why_asking* asking) {
  why_arena* arena = asking->question->arena;
  for (size_t i = 0; i < asking->words.count; i++) {
    why_ask_word* word = &asking->words.at[i];
    if (word->mark || word->number || is_known(asking, word->read))
      continue;
    const char* mended = why_phrases_mend(asking->question->ground->phrases, arena, word->read);
    if (!mended)
      continue;
    *WHY_LIST_ADD(arena, asking->asked->mended) =
        why_arena_print(arena, "\"%s\" was read as \"%s\"", word->typed, mended);
    word->read = mended;
  }
}
