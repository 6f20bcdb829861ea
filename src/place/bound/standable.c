#include "place/bound/standable.h"

#include "pack/shelf/roomiest.h"
#include "place/stack/level_space.h"

/* What is proven to lack so much room, give or take as much, is too large; all else may stand. */
#define DOUBT_MM 2

/* On the shelves' middle, where most ware is found to stand at once. */
static bool stands_in_middle(const ks_shelf_space *space, ks_point middle,
                             const ks_shelf_item *item)
{
    ks_shelf_spot spot = {
        0, {ks_mm_of(ks_um_of(middle.x)), ks_mm_of(ks_um_of(middle.y)), item->turn_first_deg}};
    return ks_shelf_slack(space, item, 1, &spot, 0) >= 0;
}

/* What fills is offered later, by a job that shares these kinds. */
static bool is_on_offer(const ks_job *job, const ks_load_kind *kind, int item)
{
    return item != job->cone && kind->suits[item] &&
           (item >= job->first_tower || job->items[item].copies > 0 || ks_job_is_fill(job, item));
}

/* Marks the heights of which some ware stands there: a quick look at all, a proof for the rest. */
static void mark_heights(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level,
                         bool *stands)
{
    ks_arena scratch = {0};
    const ks_kiln *kiln = kind->furniture->kiln;
    ks_shelf_space space = ks_level_space_loosest(job, kind, level, &scratch);
    ks_outline shelves =
        ks_support_outline(kiln, &kiln->bays[level->bay].supports[level->support], &scratch);
    ks_point middle = ks_outline_centroid(&shelves);
    for (int proof = 0; proof < 2; proof++)
        for (int i = 0; i < job->n_items && !ks_stop_is_asked(job->stop); i++) {
            int h = ks_height_index(job, job->height_mm[i]);
            if (h < 0 || stands[h] || !is_on_offer(job, kind, i))
                continue;
            const ks_shelf_item *item = &job->items[i];
            stands[h] = proof ? ks_roomiest_reaches(&space, item, -DOUBT_MM, DOUBT_MM)
                              : stands_in_middle(&space, middle, item);
        }
    ks_arena_finish(&scratch);
}

static int most_supports(const ks_kiln *kiln)
{
    int most = 0;
    for (int b = 0; b < kiln->n_bays; b++)
        most = kiln->bays[b].n_supports > most ? kiln->bays[b].n_supports : most;
    return most;
}

/* Of each height, the tallest up to it of which some ware stands there. */
static void find_on(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level,
                    int *tallest)
{
    ks_arena scratch = {0};
    bool *stands = KS_TAKE(&scratch, job->n_heights, bool);
    mark_heights(job, kind, level, stands);
    /* Ended early, nothing is proven. */
    bool stopped = ks_stop_is_asked(job->stop);
    for (int h = 0; h < job->n_heights; h++)
        tallest[h] = stands[h] || stopped ? h : h > 0 ? tallest[h - 1] : -1;
    ks_arena_finish(&scratch);
}

/* Each support once, whatever columns it is of: posts and height do not count in the loosest
 * space. */
static void find_in_layout(const ks_job *job, const ks_load_kind *kind, int standing, bool *seen,
                           int *known)
{
    const ks_post_layout *layout = &kind->furniture->post_layouts[standing];
    for (int c = 0; c < layout->n_columns; c++)
        for (int w = 0; w < layout->columns[c].n_ways; w++)
            for (int b = 0; b < layout->columns[c].n_bays; b++) {
                const ks_column *column = &layout->columns[c];
                int bay = column->bays[b], support = column->ways[w].supports[b];
                int at = bay * most_supports(kind->furniture->kiln) + support;
                ks_stack_level level = {.bay = bay,
                                        .support = support,
                                        .standing = standing,
                                        .column = c,
                                        .gap = ks_um_of(kind->furniture->kiln->height_mm),
                                        .under = -1,
                                        .posts = -1};
                if (!seen[at])
                    find_on(job, kind, &level, &known[at * job->n_heights]);
                seen[at] = true;
            }
}

static void find_for(const ks_job *job, ks_load_kind *kind)
{
    ks_arena scratch = {0};
    const ks_kiln *kiln = kind->furniture->kiln;
    int n = kiln->n_bays * most_supports(kiln);
    int *known = KS_TAKE(job->arena, n * job->n_heights, int);
    bool *seen = KS_TAKE(&scratch, n, bool);
    for (int s = 0; s < kind->furniture->n_post_layouts; s++)
        find_in_layout(job, kind, s, seen, known);
    kind->standable = known;
    ks_arena_finish(&scratch);
}

void ks_standable_find(ks_job *job)
{
    for (int k = 0; k < job->n_kinds; k++)
        if (!job->kinds[k].standable) /* a job made from another shares its kinds */
            find_for(job, &job->kinds[k]);
}

int ks_standable_height(const ks_job *job, const ks_load_kind *kind, const ks_stack_level *level)
{
    int h = ks_height_index(job, ks_level_clear_mm(kind, level));
    if (h < 0 || !kind->standable)
        return h;
    int supports = most_supports(kind->furniture->kiln);
    return kind->standable[(level->bay * supports + level->support) * job->n_heights + h];
}
