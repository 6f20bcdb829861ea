#include "pack/instance/instance.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>

/* Cores of one item while they are being gathered. */
typedef struct {
    ks_arena *arena;
    ks_outline *cores; /* in the item's own axes, round left out */
    int n_cores, room;
    struct ks_slice *slices;
    int n_slices, slice_room;
} gathered;

static bool same_corners(const ks_outline *a, const ks_outline *b)
{
    if (a->n != b->n)
        return false;
    for (int i = 0; i < a->n; i++)
        if (a->at[i].x != b->at[i].x || a->at[i].y != b->at[i].y)
            return false;
    return true;
}

static int core_of(gathered *all, const ks_outline *outline)
{
    for (int c = 0; c < all->n_cores; c++)
        if (same_corners(&all->cores[c], outline))
            return c;
    all->cores = KS_GROW(all->arena, all->cores, all->n_cores, &all->room, ks_outline);
    all->cores[all->n_cores] = *outline;
    return all->n_cores++;
}

static gathered gathered_cores(const ks_shelf_item *item, ks_arena *arena)
{
    gathered all = {.arena = arena};
    for (int p = 0; p < item->n_parts; p++) {
        ks_outline *pieces;
        int n = ks_outline_convex_parts(&item->parts[p].outline, arena, &pieces);
        for (int k = 0; k < n; k++) {
            all.slices = KS_GROW(arena, all.slices, all.n_slices, &all.slice_room, struct ks_slice);
            all.slices[all.n_slices++] =
                (struct ks_slice){core_of(&all, &pieces[k]), p, pieces[k].round};
        }
    }
    return all;
}

ks_core ks_core_of(const ks_outline *outline, ks_arena *arena)
{
    int n = outline->n;
    double *room = KS_TAKE(arena, 4 * n, double);
    double *x = room, *y = room + n, *nx = room + 2 * n, *ny = room + 3 * n;
    for (int i = 0; i < n; i++) {
        x[i] = outline->at[i].x;
        y[i] = outline->at[i].y;
    }
    for (int i = 0; i < n; i++) {
        int j = i + 1 < n ? i + 1 : 0;
        double dx = x[j] - x[i], dy = y[j] - y[i], length = sqrt(dx * dx + dy * dy);
        nx[i] = length > 0 ? dy / length : 1;
        ny[i] = length > 0 ? -dx / length : 0;
    }
    return (ks_core){n, x, y, nx, ny};
}

ks_core ks_item_type_core(const ks_item_type *kind, int core)
{
    int first = kind->first[core];
    return (ks_core){kind->corners[core], kind->x + first, kind->y + first, kind->nx + first,
                     kind->ny + first};
}

static void lay_corners(ks_item_type *kind, const gathered *all, ks_arena *arena)
{
    int total = 0;
    for (int c = 0; c < all->n_cores; c++)
        total += all->cores[c].n;
    double *room = KS_TAKE(arena, 4 * total, double), *reach = KS_TAKE(arena, all->n_cores, double);
    ks_circle *around = KS_TAKE(arena, all->n_cores, ks_circle);
    int *first = KS_TAKE(arena, all->n_cores, int), *corners = KS_TAKE(arena, all->n_cores, int);
    int at = 0;
    for (int c = 0; c < all->n_cores; c++) {
        ks_core core = ks_core_of(&all->cores[c], arena);
        first[c] = at;
        corners[c] = core.n;
        around[c] = ks_outline_around(&(ks_outline){core.n, all->cores[c].at, 0});
        around[c].centre.x -= kind->middle_x;
        around[c].centre.y -= kind->middle_y;
        for (int i = 0; i < core.n; i++, at++) {
            double x = core.x[i] - kind->middle_x, y = core.y[i] - kind->middle_y;
            room[at] = x;
            room[total + at] = y;
            room[2 * total + at] = core.nx[i];
            room[3 * total + at] = core.ny[i];
            reach[c] = fmax(reach[c], sqrt(x * x + y * y));
        }
    }
    kind->n_corners = total;
    kind->x = room, kind->y = room + total, kind->nx = room + 2 * total,
    kind->ny = room + 3 * total;
    kind->first = first, kind->corners = corners, kind->around = around, kind->core_reach = reach;
}

/* Half the distance two of these would keep: what a level loses around a piece. */
static double half_gap(const ks_shelf_space *space, const ks_shelf_item *item)
{
    double most = 0;
    for (int p = 0; p < item->n_parts; p++)
        most = fmax(most, ks_shelf_apart(space, (ks_shelf_part){item, &item->parts[p]},
                                         (ks_shelf_part){item, &item->parts[p]}));
    return most / 2;
}

static double size_of(const ks_shelf_space *space, const ks_shelf_item *item)
{
    double most = 0, grow = half_gap(space, item);
    for (int p = 0; p < item->n_parts; p++) {
        ks_outline grown = item->parts[p].outline;
        grown.round += grow;
        most = fmax(most, ks_outline_area(&grown));
    }
    return most;
}

static int ways_to_stand(const ks_shelf_item *item)
{
    if (item->turn_step_deg < KS_TURN_STEP)
        return 0;
    int ways = (int)(360 / item->turn_step_deg + 1e-9);
    return ways < 1 ? 1 : ways;
}

double ks_item_type_turn(const ks_item_type *kind, int k)
{
    double turn = kind->item->turn_first_deg + k * kind->item->turn_step_deg;
    turn -= 360 * floor(turn / 360);
    return turn < 360 ? turn : 0;
}

static bool is_discs_on_one_axis(const ks_shelf_item *item)
{
    const ks_outline *first = &item->parts[0].outline;
    for (int p = 0; p < item->n_parts; p++) {
        const ks_outline *outline = &item->parts[p].outline;
        if (outline->n != 1 || outline->at[0].x != first->at[0].x ||
            outline->at[0].y != first->at[0].y)
            return false;
    }
    return true;
}

/* That of the least circle around the item. */
static ks_point middle_of(const ks_shelf_item *item, ks_arena *arena)
{
    if (is_discs_on_one_axis(item))
        return item->parts[0].outline.at[0];
    ks_outline *outlines = KS_TAKE(arena, item->n_parts, ks_outline);
    for (int p = 0; p < item->n_parts; p++)
        outlines[p] = item->parts[p].outline;
    ks_outline hull = ks_outline_hull(outlines, item->n_parts, arena);
    return ks_outline_around(&hull).centre;
}

void ks_item_type_init(ks_item_type *kind, const ks_shelf_space *space, const ks_shelf_item *item,
                       ks_arena *arena)
{
    *kind = (ks_item_type){.item = item, .hopeless = item->n_parts == 0};
    if (kind->hopeless)
        return;
    ks_point middle = middle_of(item, arena);
    kind->middle_x = middle.x;
    kind->middle_y = middle.y;
    gathered all = gathered_cores(item, arena);
    lay_corners(kind, &all, arena);
    kind->n_cores = all.n_cores;
    kind->outreach = KS_TAKE(arena, all.n_cores * all.n_cores, double);
    for (int c = 0; c < all.n_cores * all.n_cores; c++)
        kind->outreach[c] = NAN;
    kind->n_slices = all.n_slices;
    kind->slices = all.slices;
    kind->turnless = true;
    for (int s = 0; s < all.n_slices; s++) {
        double core_reach = kind->core_reach[all.slices[s].core];
        kind->reach = fmax(kind->reach, core_reach + all.slices[s].round);
        kind->cores_reach = fmax(kind->cores_reach, core_reach);
        kind->turnless = kind->turnless && core_reach == 0;
    }
    for (int p = 0; p < item->n_parts; p++)
        kind->hopeless = kind->hopeless || item->parts[p].to_mm > space->height_mm;
    kind->n_turns = kind->turnless ? 1 : ways_to_stand(item);
    kind->size_mm2 = size_of(space, item);
}
