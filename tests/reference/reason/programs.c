// SPDX-License-Identifier: GPL-3.0-or-later
// Writes one program twice: as rules in XML and in the text form that gringo (Debian, ASP language
// of the Potsdam group) reads, so that both chainers can be asked for the same tuples. The two
// writers share nothing but the tree of the program.
//   programs closure|generation|random SEED FOLDER     writes FOLDER/program.xml and program.lp
#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  ARITY_LIMIT = 3,
  ATOM_LIMIT = 5,
  RELATION_LIMIT = 24,
  RULE_LIMIT = 64,
  FACT_LIMIT = 4000,
  VARIABLES = 5
};

/// A term: a variable, a constant (an element of the domain), or anything.
typedef struct {
  enum { ANY, VARIABLE, CONSTANT } kind;
  unsigned number;
} term;

typedef struct {
  unsigned relation;
  bool negated;
  term terms[ARITY_LIMIT];
} atom;

typedef struct {
  atom head;
  atom body[ATOM_LIMIT];
  unsigned count;
  bool differs; ///< The first two variables of the body must differ.
  unsigned left, right;
} rule;

typedef struct {
  unsigned relation;
  unsigned values[ARITY_LIMIT];
} fact;

typedef struct {
  uint64_t state;
  unsigned domain;
  unsigned arity[RELATION_LIMIT];
  bool assumable[RELATION_LIMIT];
  unsigned relation_count;
  rule rules[RULE_LIMIT];
  unsigned rule_count;
  fact facts[FACT_LIMIT];
  unsigned fact_count;
} program;

/// A multiplicative generator (Knuth's MMIX constants): the same program for a seed everywhere.
static unsigned draw(program* p, unsigned below) {
  p->state = p->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
  return (unsigned)((p->state >> 33) % below);
}

static unsigned add_relation(program* p, unsigned arity) {
  p->arity[p->relation_count] = arity;
  return p->relation_count++;
}

static void add_fact(program* p, unsigned relation, unsigned a, unsigned b, unsigned c) {
  if (p->fact_count < FACT_LIMIT)
    p->facts[p->fact_count++] = (fact){relation, {a, b, c}};
}

static term variable(unsigned number) {
  return (term){VARIABLE, number};
}

static atom pair(unsigned relation, unsigned a, unsigned b) {
  return (atom){.relation = relation, .terms = {variable(a), variable(b)}};
}

// ---- the two well-known programs ----

static void add_rule(program* p, atom head, const atom* body, unsigned count) {
  rule* made = &p->rules[p->rule_count++];
  *made = (rule){.head = head, .count = count};
  memcpy(made->body, body, count * sizeof *body);
}

/// path = edge, and path followed by edge, over a random graph.
static void make_closure(program* p) {
  unsigned edge = add_relation(p, 2);
  unsigned path = add_relation(p, 2);
  p->domain = 60;
  for (unsigned i = 0; i < 110; i++)
    add_fact(p, edge, draw(p, p->domain), draw(p, p->domain), 0);
  add_rule(p, pair(path, 0, 1), (atom[]){pair(edge, 0, 1)}, 1);
  add_rule(p, pair(path, 0, 2), (atom[]){pair(path, 0, 1), pair(edge, 1, 2)}, 2);
}

/// Two are of one generation when they are one, or when their parents are of one generation.
static void make_generation(program* p) {
  unsigned parent = add_relation(p, 2);
  unsigned person = add_relation(p, 1);
  unsigned same = add_relation(p, 2);
  p->domain = 120;
  add_fact(p, person, 0, 0, 0);
  for (unsigned child = 1; child < p->domain; child++) {
    add_fact(p, person, child, 0, 0);
    add_fact(p, parent, child, draw(p, child), 0);
    if (draw(p, 3) == 0)
      add_fact(p, parent, child, draw(p, child), 0);
  }
  atom anyone = {.relation = person, .terms = {variable(0)}};
  add_rule(p, pair(same, 0, 0), (atom[]){anyone}, 1);
  add_rule(p, pair(same, 0, 1), (atom[]){pair(parent, 0, 2), pair(same, 2, 3), pair(parent, 1, 3)},
           3);
}

// ---- random stratified programs ----

/// Relations of one stratum use each other; `unless` looks at earlier strata only.
enum { GIVEN = 3, STRATA = 4, EACH = 3 };

static term draw_term(program* p, bool* used) {
  unsigned kind = draw(p, 16);
  if (kind == 0)
    return (term){.kind = ANY};
  if (kind == 1)
    return (term){CONSTANT, draw(p, p->domain)};
  unsigned number = draw(p, VARIABLES);
  used[number] = true;
  return variable(number);
}

static unsigned draw_used(program* p, const bool* used) {
  unsigned number = draw(p, VARIABLES);
  while (!used[number])
    number = (number + 1) % VARIABLES;
  return number;
}

/// A term for a negated atom or a head: only variables that the body binds.
static term draw_bound(program* p, const bool* used, bool any) {
  unsigned kind = draw(p, 16);
  if (kind == 0 && any)
    return (term){.kind = ANY};
  if (kind == 1)
    return (term){CONSTANT, draw(p, p->domain)};
  return variable(draw_used(p, used));
}

static void draw_body(program* p, rule* made, unsigned below, unsigned known, bool* used) {
  unsigned positive = 1 + draw(p, 2) + draw(p, 2);
  for (unsigned i = 0; i < positive; i++) {
    atom* each = &made->body[made->count++];
    each->relation = draw(p, below);
    for (unsigned s = 0; s < p->arity[each->relation]; s++)
      each->terms[s] = draw_term(p, used);
  }
  atom* first = &made->body[0];
  if (first->terms[0].kind != VARIABLE) {
    first->terms[0] = variable(0);
    used[0] = true;
  }
  unsigned negated = draw(p, 4) / 2;
  for (unsigned i = 0; i < negated; i++) {
    atom* each = &made->body[made->count++];
    *each = (atom){.relation = draw(p, known), .negated = true};
    for (unsigned s = 0; s < p->arity[each->relation]; s++)
      each->terms[s] = draw_bound(p, used, true);
  }
}

static void draw_rule(program* p, unsigned head, unsigned below, unsigned known) {
  bool used[VARIABLES] = {false};
  rule* made = &p->rules[p->rule_count++];
  *made = (rule){.head = {.relation = head}};
  draw_body(p, made, below, known, used);
  for (unsigned s = 0; s < p->arity[head]; s++)
    made->head.terms[s] = draw_bound(p, used, false);
  made->left = draw_used(p, used);
  made->right = draw_used(p, used);
  made->differs = made->left != made->right && draw(p, 4) == 0;
}

static void make_random(program* p) {
  p->domain = 5 + draw(p, 4);
  for (unsigned i = 0; i < GIVEN; i++) {
    unsigned relation = add_relation(p, 1 + draw(p, ARITY_LIMIT));
    p->assumable[relation] = draw(p, 3) == 0;
    unsigned count = 8 + draw(p, 24);
    for (unsigned k = 0; k < count; k++)
      add_fact(p, relation, draw(p, p->domain), draw(p, p->domain), draw(p, p->domain));
  }
  for (unsigned stratum = 0; stratum < STRATA; stratum++) {
    unsigned known = p->relation_count;
    for (unsigned i = 0; i < EACH; i++)
      add_relation(p, 1 + draw(p, ARITY_LIMIT));
    // The first rule of a relation starts from earlier strata, so that recursion has a beginning.
    for (unsigned head = known; head < p->relation_count; head++) {
      draw_rule(p, head, known, known);
      for (unsigned k = 1 + draw(p, 3); k > 0; k--)
        draw_rule(p, head, p->relation_count, known);
    }
    if (draw(p, 2))
      add_fact(p, known, draw(p, p->domain), draw(p, p->domain), draw(p, p->domain));
  }
}

// ---- gringo's text ----

static void write_term_lp(FILE* out, term each) {
  if (each.kind == ANY)
    fputs("_", out);
  else
    fprintf(out, each.kind == VARIABLE ? "V%u" : "n%u", each.number);
}

static void write_atom_lp(FILE* out, const program* p, const atom* each) {
  fprintf(out, "%sr%u(", each->negated ? "not " : "", each->relation);
  for (unsigned s = 0; s < p->arity[each->relation]; s++) {
    fputs(s ? "," : "", out);
    write_term_lp(out, each->terms[s]);
  }
  fputs(")", out);
}

static void write_lp(FILE* out, const program* p) {
  for (unsigned i = 0; i < p->fact_count; i++) {
    const fact* each = &p->facts[i];
    fprintf(out, "r%u(", each->relation);
    for (unsigned s = 0; s < p->arity[each->relation]; s++)
      fprintf(out, "%sn%u", s ? "," : "", each->values[s]);
    fputs(").\n", out);
  }
  for (unsigned i = 0; i < p->rule_count; i++) {
    const rule* each = &p->rules[i];
    write_atom_lp(out, p, &each->head);
    for (unsigned k = 0; k < each->count; k++) {
      fputs(k ? ", " : " :- ", out);
      write_atom_lp(out, p, &each->body[k]);
    }
    if (each->differs)
      fprintf(out, ", V%u != V%u", each->left, each->right);
    fputs(".\n", out);
  }
}

// ---- XML ----

static void write_atom_xml(FILE* out, const program* p, const char* element, const atom* each) {
  fprintf(out, "    <%s fact=\"r%u\"", element, each->relation);
  for (unsigned s = 0; s < p->arity[each->relation]; s++) {
    if (each->terms[s].kind == ANY)
      fprintf(out, " s%u=\"_\"", s);
    else
      fprintf(out, each->terms[s].kind == VARIABLE ? " s%u=\"?v%u\"" : " s%u=\"n%u\"", s,
              each->terms[s].number);
  }
  fputs("/>\n", out);
}

static void write_rule_xml(FILE* out, const program* p, unsigned number) {
  const rule* each = &p->rules[number];
  fprintf(out, "  <rule id=\"rule-%u\" grounds=\"practice\">\n    <title>Rule %u</title>\n", number,
          number);
  for (unsigned k = 0; k < each->count; k++)
    write_atom_xml(out, p, each->body[k].negated ? "unless" : "if", &each->body[k]);
  if (each->differs)
    fprintf(out, "    <where left=\"?v%u\" is=\"differs\" right=\"?v%u\"/>\n", each->left,
            each->right);
  write_atom_xml(out, p, "then", &each->head);
  fputs("  </rule>\n", out);
}

static void write_xml(FILE* out, const program* p) {
  fputs("<reasoning>\n", out);
  for (unsigned i = 0; i < p->relation_count; i++) {
    fprintf(out, "  <relation name=\"r%u\"%s>", i, p->assumable[i] ? " assumable=\"yes\"" : "");
    for (unsigned s = 0; s < p->arity[i]; s++)
      fprintf(out, "<slot name=\"s%u\" kind=\"thing\"/>", s);
    fputs("</relation>\n", out);
  }
  for (unsigned i = 0; i < p->fact_count; i++) {
    fprintf(out, "  <fact relation=\"r%u\"", p->facts[i].relation);
    for (unsigned s = 0; s < p->arity[p->facts[i].relation]; s++)
      fprintf(out, " s%u=\"n%u\"", s, p->facts[i].values[s]);
    fputs("/>\n", out);
  }
  for (unsigned i = 0; i < p->rule_count; i++)
    write_rule_xml(out, p, i);
  fputs("</reasoning>\n", out);
}

static bool write_file(const program* p, const char* folder, const char* name,
                       void (*write)(FILE* out, const program* p)) {
  char path[4096];
  if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path)
    return false;
  FILE* out = fopen(path, "w");
  if (!out)
    return false;
  write(out, p);
  return fclose(out) == 0;
}

int main(int argc, char** argv) {
  static program made; // too large for a stack
  if (argc != 4) {
    fputs("usage: programs closure|generation|random SEED FOLDER\n", stderr);
    return 2;
  }
  made.state = strtoull(argv[2], NULL, 10) * UINT64_C(0x9e3779b97f4a7c15) + 1;
  if (strcmp(argv[1], "closure") == 0)
    make_closure(&made);
  else if (strcmp(argv[1], "generation") == 0)
    make_generation(&made);
  else
    make_random(&made);
  return write_file(&made, argv[3], "program.lp", write_lp) &&
                 write_file(&made, argv[3], "program.xml", write_xml)
             ? 0
             : 4;
}
