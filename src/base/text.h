/* text.h: texts that grow, UTF-8, and words that resemble each other. */
#ifndef KILNSTOW_BASE_TEXT_H
#define KILNSTOW_BASE_TEXT_H

#include "base/number.h"

#include <stdbool.h>
#include <stdint.h>

/* A text that grows in an arena; {.arena = a} is ready and reads "". */
typedef struct {
    ks_arena *arena;
    char *text; /* ended by a NUL; NULL while empty */
    size_t length, room;
} ks_text;

void ks_text_add(ks_text *to, const char *text);
void ks_text_add_n(ks_text *to, const char *bytes, size_t length);
void ks_text_print(ks_text *to, const char *format, ...) __attribute__((format(printf, 2, 3)));
void ks_text_print_list(ks_text *to, const char *format, va_list args)
    __attribute__((format(printf, 2, 0)));
void ks_text_add_number(ks_text *to, double number); /* as ks_number_print */
const char *ks_text_end(const ks_text *text);        /* "" while empty */

/* The three one after another. What goes into files is made so, and not printed: nothing of it is
 * looked up in the catalogue of a language. */
const char *ks_joined(const char *a, const char *between, const char *b, ks_arena *arena);

/* Bytes of the code point at `text`, 1 to 4, and its value; 0 where that is no UTF-8 (overlong,
 * surrogate, beyond U+10FFFF, cut short). `code` may be NULL. */
int ks_utf8_next(const char *text, size_t left, uint32_t *code);

/* Whether a terminal might obey the code point instead of showing it: C0, DEL and C1 controls
 * (ECMA-48), separators of lines and paragraphs, and what turns the direction of the text around it
 * (Unicode Standard Annex 9: embeddings, overrides and isolates). */
bool ks_is_control(uint32_t code);

/* Writes a code point (must be one) as UTF-8 into 4 bytes; returns how many. */
int ks_utf8_put(uint32_t code, char bytes[4]);

/* Length of the part from the start that is UTF-8: `length` when all is. */
size_t ks_utf8_valid(const char *text, size_t length);

/* Code points in a valid text. */
int ks_utf8_count(const char *text);

/* The value of four hexadecimal digits, -1 if they are not there. */
int ks_hex_four(const char *text);

bool ks_same_word(const char *a, const char *b); /* ASCII letter case aside */

/* Insertions, deletions, replacements and swaps of neighbours that make one of the other, case of
 * ASCII letters aside; texts over 64 bytes count as their length. */
int ks_edit_distance(const char *a, const char *b);

/* The word nearest to `word`, NULL if none is near enough to be what was meant. */
const char *ks_nearest(const char *word, const char *const *words, int n);

#endif
