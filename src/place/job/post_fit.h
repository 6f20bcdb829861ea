/* post_fit.h: which cross-sections of posts can stand on the places of a column, and carry. */
#ifndef KILNSTOW_PLACE_JOB_POST_FIT_H
#define KILNSTOW_PLACE_JOB_POST_FIT_H

#include "place/job/furniture.h"

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

/* Fills in what each way of shelving the column bears. */
void ks_column_find_bearing(const ks_furniture *furniture, const ks_post_places *places,
                            ks_column *column, ks_arena *arena);

/* Fills in where posts of each column of the layout would be in the way of something. */
void ks_layout_find_posts_barred(const ks_furniture *furniture, ks_post_layout *layout,
                                 ks_arena *arena);

#endif
