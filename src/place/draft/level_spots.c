#include "place/draft/level_spots.h"

#include "place/job/tower_item.h"

#include <math.h>
#include <string.h>

int ks_placed_item(const ks_job *job, const ks_placed *placed)
{
    if (placed->role == KS_CONES)
        return job->cone;
    for (int i = 0; i < job->order->n_pieces; i++)
        if (strcmp(job->order->pieces[i].id, placed->id) == 0)
            return i;
    return -1;
}

/* What stands on it; NULL = nothing. */
static const ks_placed *carried_by(const ks_level *level, const ks_placed *below)
{
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i];
        if (placed->on_id && placed->on_copy == below->copy &&
            strcmp(placed->on_id, below->id) == 0)
            return placed;
    }
    return NULL;
}

static bool is_member(const ks_job *job, const ks_tower_member *member, const ks_placed *placed)
{
    if (member->piece != ks_placed_item(job, placed) || placed->role == KS_CONES)
        return false;
    return member->pose == placed->pose && member->way == placed->way && placed->n_parts > 0 &&
           fabs(placed->parts[0].from_mm - member->lift_mm) <= KS_GRID;
}

/* How many members of an item stand there as they do in it, from this one up; 0 = not all. */
static int members_there(const ks_job *job, int item, const ks_level *level,
                         const ks_placed *lowest)
{
    const ks_tower *tower = &job->towers[item];
    const ks_placed *at = lowest;
    for (int m = 0; m < tower->n; m++) {
        if (!at || !is_member(job, &tower->members[m], at))
            return 0;
        at = carried_by(level, at);
    }
    return tower->n;
}

static ks_shelf_spot spot_of(const ks_job *job, const ks_level *level, const ks_placed *lowest,
                             int *pieces)
{
    int item = lowest->way == KS_NO_WAY ? ks_placed_item(job, lowest) : -1;
    *pieces = item >= 0;
    for (int t = job->first_tower; t < job->n_items; t++) {
        int n = members_there(job, t, level, lowest);
        if (n > *pieces) {
            *pieces = n;
            item = t;
        }
    }
    return (ks_shelf_spot){item, item < 0 ? lowest->stand
                                          : ks_tower_stand(&job->towers[item], lowest->stand)};
}

int ks_level_spots(const ks_job *job, const ks_level *level, ks_shelf_spot *out, int *lost)
{
    int n = 0, found = 0;
    for (int i = 0; i < level->n_pieces; i++) {
        int pieces;
        if (level->pieces[i].on_id)
            continue;
        out[n] = spot_of(job, level, &level->pieces[i], &pieces);
        n += out[n].item >= 0;
        found += pieces;
    }
    if (lost)
        *lost = level->n_pieces - found;
    return n;
}
