/* names.h: the words that files use for stages, poses and the like, in the order of their enums. */
#ifndef KILNSTOW_STUDIO_NAMES_H
#define KILNSTOW_STUDIO_NAMES_H

/* Bisque firings end at this cone or below; common practice, no source. */
#define KS_BISQUE_CONE "04"

#define KS_PART_KIND_WORDS "foot|body|slab|grog|stilt|cookie|prop"
#define KS_STAGE_WORDS "leather-hard|dry|bisque|glazed|fired"
#define KS_POSE_WORDS "upright|inverted|on edge|on its side"
#define KS_WAY_WORDS "nest|rim|pile|edge|lid"
#define KS_ROLE_WORDS "ware|cones|test|prop"
#define KS_LOADING_WORDS "top|front"
#define KS_HEAT_WORDS "electric|gas"
#define KS_CONTROL_WORDS "controller|switches"
#define KS_COOL_BY_WORDS "usual|shut|vent|damper|lid"
#define KS_OBJECTIVE_WORDS "volume|price|count"
#define KS_HANDED_WORDS "right|left"
#define KS_PUT_WORDS "posts|shelf|piece|cones"
#define KS_ATMOSPHERE_WORDS "oxidation|reduction"
#define KS_REASON_OF_WORDS "piece|body|setter|glaze"

/* The word at place `value` (from 0) of such a list;
 * "" beyond the last. */
typedef struct {
    char text[24];
} ks_word;
ks_word ks_word_at(const char *words, int value);

/* Place of the word in the list, -1 = not there. */
int ks_word_place(const char *words, const char *word);

#endif
