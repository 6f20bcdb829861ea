#include "place/finish/tidy_effort.h"

static int64_t corners_of(const ks_shelf_item *item)
{
    int64_t corners = 0;
    for (int p = 0; p < item->n_parts; p++)
        corners += item->parts[p].outline.n;
    return corners;
}

int64_t ks_level_corners(const ks_job *job, const ks_draft_level *level)
{
    int64_t corners = 0;
    for (int i = 0; i < level->layout.n_spots; i++)
        corners += corners_of(&job->items[level->layout.spots[i].item]);
    for (int i = 0; i < level->n_pins; i++)
        corners += corners_of(&job->items[level->pins[i].item]);
    return corners;
}
