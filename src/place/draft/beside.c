#include "place/draft/beside.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>

#define HAIR_MM 1e-9 /* what a distance of nothing may come to in doubles */

static bool may_turn_so(const ks_shelf_item *item, double turn_deg)
{
    if (!(item->turn_step_deg > 0))
        return true;
    double steps = (turn_deg - item->turn_first_deg) / item->turn_step_deg;
    return fabs(steps - floor(steps + 0.5)) * item->turn_step_deg < 1e-3;
}

static bool is_shunned(const ks_beside *level, int item)
{
    const ks_shelf_item *items = level->job->items;
    for (int i = 0; i < level->n; i++)
        if ((items[item].conflicts & items[level->spots[i].item].tags) ||
            (items[item].tags & items[level->spots[i].item].conflicts))
            return true;
    return false;
}

/* Whether the first n spots are no load too heavy for the shelves, each by itself. */
static bool is_borne(const ks_beside *level, int n)
{
    const ks_shelf_space *space = &level->space;
    double all = 0;
    for (int i = 0; i < n; i++)
        all += level->job->items[level->spots[i].item].mass_kg;
    for (int b = 0; b < space->n_bearers; b++) {
        double on = 0;
        for (int i = 0; i < n; i++) {
            const ks_shelf_item *item = &level->job->items[level->spots[i].item];
            if (ks_shelf_weighs_on(space, &space->bearers[b], item, level->spots[i].stand))
                on += item->mass_kg;
        }
        if (on > space->bearers[b].limit_kg)
            return false;
    }
    return all <= space->mass_limit_kg;
}

bool ks_beside_stood(ks_beside *level, ks_shelf_spot spot)
{
    const ks_job *job = level->job;
    if (!level->kind->suits[spot.item] ||
        !may_turn_so(&job->items[spot.item], spot.stand.turn_deg) ||
        job->height_mm[spot.item] > ks_level_clear_mm(level->kind, level->at) ||
        is_shunned(level, spot.item))
        return false;
    level->spots[level->n] = spot;
    bool stands =
        is_borne(level, level->n + 1) &&
        ks_shelf_slack(&level->space, job->items, level->n + 1, level->spots, 0) >= -HAIR_MM &&
        ks_shelf_loadable(&level->space, job->items, level->n + 1, level->spots);
    level->n += stands;
    return stands;
}
