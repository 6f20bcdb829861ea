#include "place/finish/tidy.h"

#include "place/bound/relaxation.h"
#include "place/draft/close_up.h"
#include "place/finish/tidy_effort.h"

#include <stdlib.h>

/* Fewer shelves: the level with least on it goes onto another, as long as there is one that takes
 * all of it. */

#define DENSEST 0.9 /* no level is covered more densely, clearances and all */

typedef struct {
    const ks_job *job;
    ks_draft *draft;
    int slot;
    int64_t *effort;
    ks_arena *arena;
} shelving;

static double area_on(const shelving *s, const ks_draft_level *level)
{
    const ks_load_kind *kind = &s->job->kinds[s->draft->loads[s->slot].kind];
    double sum = 0;
    for (int i = 0; i < level->layout.n_spots; i++)
        sum += ks_item_area_mm2(s->job, kind, level->layout.spots[i].item);
    for (int i = 0; i < level->n_pins; i++)
        sum += ks_item_area_mm2(s->job, kind, level->pins[i].item);
    return sum;
}

static double area_of_shelves(const shelving *s, const ks_stack_level *at)
{
    const ks_kiln *kiln = s->job->kinds[s->draft->loads[s->slot].kind].furniture->kiln;
    const ks_support *support = &kiln->bays[at->bay].supports[at->support];
    double sum = 0;
    for (int i = 0; i < support->n_shelves; i++)
        sum += ks_outline_area(&kiln->shelves[support->shelves[i].kind].outline);
    return sum;
}

typedef struct {
    int level;
    double area_mm2;
} laden;

static bool may_merge(const shelving *s, laden from, laden onto)
{
    const ks_draft_load *load = &s->draft->loads[s->slot];
    const ks_draft_level *a = &load->levels[from.level], *b = &load->levels[onto.level];
    return a != b && a->n_pins == 0 && a->at.bay == b->at.bay && a->at.support == b->at.support &&
           from.area_mm2 + onto.area_mm2 <= DENSEST * area_of_shelves(s, &b->at);
}

static int by_area(const void *x, const void *y)
{
    const laden *a = x, *b = y;
    if (a->area_mm2 != b->area_mm2)
        return a->area_mm2 < b->area_mm2 ? -1 : 1;
    return a->level - b->level;
}

/* Whether all of both stands on one; only what can be paid for is tried. */
static bool merge(shelving *s, laden from, laden onto)
{
    const ks_draft_load *load = &s->draft->loads[s->slot];
    int64_t corners = ks_level_corners(s->job, &load->levels[from.level]) +
                      ks_level_corners(s->job, &load->levels[onto.level]);
    if (*s->effort < corners * corners || ks_stop_is_asked(s->job->stop))
        return false;
    *s->effort -= corners * corners;
    return ks_merge_levels(s->job, s->draft, s->slot, from.level, onto.level, s->arena);
}

static bool merge_one(shelving *s)
{
    const ks_draft_load *load = &s->draft->loads[s->slot];
    int n = load->n_levels;
    laden *order = KS_TAKE(s->arena, n, laden);
    for (int l = 0; l < n; l++)
        order[l] = (laden){l, area_on(s, &load->levels[l])};
    qsort(order, (size_t)n, sizeof *order, by_area);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++)
            if (may_merge(s, order[i], order[k]) && merge(s, order[i], order[k]))
                return true;
    return false;
}

bool ks_tidy_fewer_shelves(const ks_job *job, ks_draft *draft, int slot, int64_t *effort,
                           ks_arena *arena)
{
    shelving s = {job, draft, slot, effort, arena};
    bool fewer = ks_close_up(job, draft, slot, arena);
    while (merge_one(&s))
        fewer = true;
    return fewer;
}
