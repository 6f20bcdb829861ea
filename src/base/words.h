/* words.h: lists of words as one text, "top|front|side": what may stand in a file. */
#ifndef KILNSTOW_BASE_WORDS_H
#define KILNSTOW_BASE_WORDS_H

#include "kilnstow/arena.h"

#include <stdbool.h>

/* Place of the word, from 0, -1 if it is not there; letter case aside if `any_case`. */
int ks_words_find(const char *words, const char *word, bool any_case);

bool ks_word_among(const char *word, const char *words);

/* The word of the list that could have been meant; NULL if none is near. */
const char *ks_word_nearest(const char *word, const char *words, ks_arena *arena);

/* All of them, for people: `"top", "front" or "side"`. */
const char *ks_words_print(const char *words, ks_arena *arena);

#endif
