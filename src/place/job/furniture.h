/* furniture.h: what the posts and shelves of a kiln can make: gaps, places of posts, columns. */
#ifndef KILNSTOW_PLACE_JOB_FURNITURE_H
#define KILNSTOW_PLACE_JOB_FURNITURE_H

#include "kilnstow/plan.h"

#include <stdint.h>

/* Heights are summed as whole micrometres, so that sums compare exactly. */
typedef int64_t ks_um;
ks_um ks_um_of(double mm);
double ks_mm_of(ks_um um);
ks_um ks_um_over(double mm); /* the least that is not below, but for 1e-9 mm */

/* One way to make a gap: one post, or two on top of one another, the longer below. */
typedef struct {
    ks_um height;
    int n;
    int kind[2]; /* into kiln.posts, from below */
    int section; /* cross-section of its posts, into the sections */
} ks_gap;

/* Where posts stand, all the way up. */
typedef struct {
    int n;
    ks_point *at;
} ks_post_places;

/* Heights at which something may not be: wall of the chamber, keep-outs. Ends are free. */
typedef struct {
    int n;
    ks_um *from, *to;
} ks_barred;

/* Bays that go up together, because one post carries shelves of several of them; mostly one bay. */
typedef struct {
    int n_bays;
    int *bays; /* into kiln.bays */
    int n_posts;
    int *posts; /* into the places: those under its shelves */
    int n_ways; /* of shelving it */
    struct ks_shelving {
        int *supports;   /* of each bay */
        ks_um thickness; /* of its shelves, all alike */
        bool *bears;     /* [section]: lies safely on all of the column's posts, and they on it */
        bool *bears_on_floor; /* [section]: lying on the floor it has room for all of them */
        double **bending;     /* [bay][shelf] on its posts, as ks_plate_bending has it */
    } * ways;
    ks_barred *posts_barred; /* [section]: where its posts would meet wall, keep-out or posts */
} ks_column;

/* An arrangement on given places of posts: its columns go up each by itself, or all in step as one
 * column, so that another arrangement can follow at any height. */
typedef struct {
    int arrangement, places;
    bool in_step;
    int n_columns;
    ks_column *columns;
} ks_post_layout;

typedef struct {
    const ks_kiln *kiln;
    int n_gaps;
    ks_gap *gaps; /* ascending */
    int n_sections;
    ks_outline *sections; /* cross-sections of the kiln's posts, each once */
    int n_places;
    ks_post_places *places;
    int n_post_layouts;
    ks_post_layout *post_layouts;
    ks_outline post;    /* the widest post, centred: what ware keeps clear of */
    bool posts_alike;   /* all kinds have this outline */
    ks_barred **barred; /* of each bay's supports: for a shelf's top */
    double **inset_mm;  /* of each bay's supports: how far within the hull of all its shelves they
                         * carry like one; negative: they do not */
} ks_furniture;

void ks_furniture_init(ks_furniture *furniture, const ks_kiln *kiln, ks_arena *arena);

/* Whether shelves of the support may lie with their top anywhere from low to high. */
bool ks_support_lies(const ks_furniture *furniture, int bay, int support, ks_um low, ks_um high);

/* Whether the gap's posts can stand from this height on all places of the column. */
bool ks_posts_stand(const ks_furniture *furniture, const ks_column *column, int gap, ks_um from);

/* Whether shelves with their underside at `base` rest on the posts of this gap; -1 = on the floor.
 */
bool ks_way_rests(const ks_furniture *furniture, const ks_column *column, int way, int gap,
                  ks_um base);

/* Whether a post of a load, at whatever height, is over or under some shelf of the level. */
bool ks_post_meets_level(const ks_post *post, const ks_level *level);

/* Which cross-sections of posts can stand on the places of a column, and carry (post_fit.c). */

/* Lists the cross-sections of the kiln's posts, each once; gaps are listed after them. */
void ks_sections_list(ks_furniture *furniture, ks_arena *arena);
int ks_section_of(const ks_furniture *furniture, const ks_outline *outline);

/* A support's shelf as it lies. */
ks_outline ks_shelf_lay(const ks_kiln *kiln, const ks_support *support, int shelf, ks_arena *arena);

/* Whether a post of some cross-section on this place would touch a shelf of the bay. */
bool ks_bay_meets_post(const ks_furniture *furniture, int bay, ks_point place, ks_arena *arena);

/* Whether posts of the cross-section on these places carry each of the support's shelves: three or
 * more, with its middle over their hull. */
bool ks_section_carries(const ks_furniture *furniture, const ks_post_places *places, int section,
                        const ks_support *support, ks_arena *arena);

/* Which of the places, turned about the chamber's middle, carry the shelf, whichever posts of these
 * cross-sections (NULL = all) stand there: how many, into `out`, which has room for all. */
int ks_posts_under(const ks_furniture *furniture, const ks_post_places *places,
                   const bool *sections, const ks_outline *shelf, ks_rotation turned, ks_point *out,
                   ks_arena *arena);

/* Fills in what each way of shelving the column bears. */
void ks_column_find_bearing(const ks_furniture *furniture, const ks_post_places *places,
                            ks_column *column, ks_arena *arena);

/* Fills in where posts of each column of the layout would be in the way of something. */
void ks_layout_find_posts_barred(const ks_furniture *furniture, ks_post_layout *layout,
                                 ks_arena *arena);

#endif
