/* facts.h: what the sheets of one load have to say, worked out once: numbers, owners, places,
 * steps. */
#ifndef KILNSTOW_DRAW_FACTS_FACTS_H
#define KILNSTOW_DRAW_FACTS_FACTS_H

#include "draw/facts/say.h"
#include "draw/scene/trace.h"

typedef struct {
    const char *id;    /* member's id; "" = the studio's own */
    const char *words; /* the mark, or the full name where the sheets may show it */
    const char *mark;  /* on the drawings: initials, longer where two would be alike */
    int fill, hatch;
    int pieces; /* in this load */
} ks_owner;

typedef struct {
    int number;             /* in loading order, from 1; cone packs are counted on their own */
    const char *mark;       /* within its level: "17", cone packs "C2" */
    const char *full_mark;  /* elsewhere: "3 left · 17" */
    int base;               /* into items: what it stands over on the shelf, itself or another */
    const char *place_mark; /* of a base: of all that stands there, from below: "17–19" */
    int level, item;        /* place in the load */
    const ks_placed *placed;
    const ks_piece *piece; /* NULL for cone packs and for what the order does not have */
    int owner;             /* into owners, -1 = cone packs */
    const char *name, *glaze, *height;
    const char *where;   /* "9 o'clock, 180 mm from the centre" */
    const char *remark;  /* what the loader has to know: "upside down", "over the rim of 12" */
    bool on_before;      /* it stands on, or leans on, the one with the number before */
    bool only_on_before; /* and that is all the remark says */
} ks_item;

/* A step of loading as the sheets tell it. Beside the plan's own there are the bedding of a setter,
 * before its form, and a stop to check each level, after its last piece. */
typedef struct {
    int level;         /* into levels, -1 = the floor */
    const ks_item *of; /* a piece or cone pack, NULL = what the words say */
    const char *words;
    const char *adult; /* why a class leaves it to its adult, "" = it need not */
} ks_told_step;

typedef struct {
    const ks_level *level;
    const char *bare_name;  /* "2", "2 left" */
    const char *name;       /* "Level 2", "Level 2 left" */
    const char *code;       /* "L2", "L2 left" */
    const char *short_code; /* "L2" */
    int n_items;
    const ks_item **items;  /* in loading order */
    const ks_item *tallest; /* NULL when it is empty */
    double free_mm;         /* over the tallest, under what is above */
    bool top;               /* nothing of its bay is above */
    const char *posts;      /* those that stand on it: "3 × 125 mm (25 on 100)", "" = none */
    double
        tight_mm; /* least clear distance between two pieces, or piece and post; infinity = none */
    ks_point tight_a, tight_b; /* where */
    const char *tight_words;   /* "12 and 14" */
} ks_level_facts;

/* Levels whose shelves are at one height, side by side: what one sheet shows. */
typedef struct {
    int n_levels;
    const ks_level_facts **levels;
    const char *name;      /* "Level 2", "Levels 2 left and 2 right" */
    const char *file_name; /* "level-2" */
} ks_tier_facts;

/* A line of a level's list, in the order of the work. */
typedef struct {
    const char *mark; /* "3–8", "" = none */
    const char *words;
    const char *care;  /* what must not be overseen, "" = nothing */
    const char *adult; /* as of a step */
    bool title;        /* names the level that the lines after it belong to: nothing to tick */
} ks_level_line;

typedef struct {
    const ks_plan *plan;
    const ks_load *load;
    int index; /* of the load in its plan */
    const ks_display *display;
    const char *kiln; /* name */
    const char *id;   /* "load 1 · 1a2b3c4d" */
    bool from_front;  /* front loader */
    bool for_class;   /* what an adult does is marked */
    ks_box extent;    /* of the chamber seen from above */
    int n_owners;
    ks_owner *owners;
    int n_items;
    ks_item *items; /* in loading order */
    int n_ware;     /* of these, without cone packs */
    int n_levels;
    ks_level_facts *levels; /* as in the load */
    int n_tiers;
    ks_tier_facts *tiers; /* from below */
    int n_steps;
    ks_told_step *steps;
} ks_facts;

ks_facts *ks_facts_of(const ks_plan *plan, int load, const char *hash, bool full_names,
                      ks_arena *arena);

/* Ware of one kind and one owner: what lists tell in one line. */
bool ks_items_alike(const ks_item *a, const ks_item *b);

/* Their numbers in the level: "3–5, 9". */
const char *ks_alike_marks(const ks_level_facts *level, const ks_item *first, ks_arena *arena);

/* "the next shelf", "the lid" or "the roof": what is over a level. */
const char *ks_over_words(const ks_facts *facts, const ks_level_facts *level);

/* "7 pieces, 1 cone pack". */
const char *ks_contents_words(const ks_level_facts *level, ks_arena *arena);

/* What is to be done on a tier's levels: shelves and posts, beds of setters, the pieces in the
 * order of the walk with those of a kind together, the check. */
ks_level_line *ks_level_lines(const ks_facts *facts, const ks_tier_facts *tier, int *n,
                              ks_arena *arena);

/* Whether a post stands on the level's shelves, or carries them. */
bool ks_post_stands_on(const ks_level *level, const ks_post *post);
bool ks_post_carries(const ks_level *level, const ks_post *post);

/* Rooms of facts.c, each in a file of its own: owners and names; where things stand; the steps. */
void ks_owners_find(ks_facts *facts, bool full_names, ks_arena *arena);
const char *ks_place_words(const ks_facts *facts, ks_point at, ks_arena *arena);
/* Which posts stand on a level, or (-1) on the floor; then those posts in words. */
bool *ks_posts_over(const ks_facts *facts, int level, ks_arena *arena);
const char *ks_posts_words(const ks_facts *facts, const bool *chosen, bool with_places,
                           ks_arena *arena);
void ks_steps_tell(ks_facts *facts, ks_arena *arena);
void ks_tiers_find(ks_facts *facts, ks_arena *arena);
/* What may touch on a level: glazed ware nothing, unglazed ware what is unglazed. */
const char *ks_touch_words(const ks_level_facts *level);

const char *ks_setter_words(const ks_facts *facts, const ks_item *item, ks_arena *arena);
/* Who or what lifts it into the kiln: "2 people", "a hoist for 125 kg"; "" where one person may,
 * and for what has no kiln. */
const char *ks_lifter_words(const ks_facts *facts, const ks_item *item, ks_arena *arena);
/* What a level's shelf carries, of what it bears in this firing: "31 kg of the 73 kg"; "" where
 * that is not known. `*part` of it. */
const char *ks_shelf_words(const ks_facts *facts, int level, int shelf, double *part,
                           ks_arena *arena);
/* Why a class leaves a step to its adult, "" = it need not; then with sign and word before it. */
const char *ks_adult_shelf(void);
const char *ks_adult_posts(const ks_facts *facts, const bool *chosen);
const char *ks_adult_piece(const ks_facts *facts, const ks_item *item, bool level_told,
                           ks_arena *arena);
const char *ks_adult_words(const char *why, ks_arena *arena);
/* Whether all of a level is a deep reach; its pieces need not tell it once the level has. */
bool ks_adult_level(const ks_facts *facts, const ks_level_facts *level);
/* The load's glazes that are not for children's hands until they are fired, or those of which no
 * recipe tells what is in them; then the materials that make them so, and why. */
const char *ks_adult_glazes(const ks_facts *facts, bool with_recipe, ks_arena *arena);
const char *ks_adult_materials(const ks_facts *facts, ks_arena *arena);
void ks_remarks_find(ks_facts *facts, ks_arena *arena);
void ks_tightest_find(ks_facts *facts, ks_level_facts *level, ks_arena *arena);

/* The middle of what a piece covers, chamber axes. */
ks_point ks_item_centre(const ks_placed *placed);
ks_box ks_item_extent(const ks_placed *placed);

#endif
