#include "place/job/tower_item.h"

#include "pack/tower/tower_choice.h"

#include <math.h>

double ks_solid_mm3(const ks_piece *piece)
{
    double sum = 0;
    for (int p = 0; p < piece->n_parts; p++) {
        const ks_part *part = &piece->parts[p];
        double hollow = part->hollow.n > 0 ? ks_outline_area(&part->hollow) : 0;
        bool alone = true; /* parts side by side may share room: only the first is sure */
        for (int q = 0; q < p && alone; q++)
            alone =
                piece->parts[q].to_mm <= part->from_mm || piece->parts[q].from_mm >= part->to_mm;
        if (alone && ks_outline_convex(&part->outline))
            sum += (ks_outline_area(&part->outline) - hollow) * (part->to_mm - part->from_mm);
    }
    return sum;
}

static double tallest_chamber(const ks_order *order)
{
    double most = 0;
    for (int k = 0; k < order->n_kilns; k++)
        most = fmax(most, order->kilns[k].height_mm);
    return most;
}

static double longest_chamber(const ks_order *order)
{
    double most = 0;
    for (int k = 0; k < order->n_kilns; k++)
        for (int p = 0; p < order->kilns[k].n_parts; p++) {
            ks_box box = ks_outline_box(&order->kilns[k].parts[p].outline);
            most = fmax(most, fmax(box.x1 - box.x0, box.y1 - box.y0));
        }
    return most;
}

int ks_towers_of_order(const ks_order *order, ks_arena *arena, const ks_tower **out)
{
    return ks_towers_find(order, tallest_chamber(order), longest_chamber(order), arena, out);
}

static void add_member(ks_shelf_item *item, const ks_shelf_item *one)
{
    item->around_mm = fmax(item->around_mm, one->around_mm);
    item->mass_kg += one->mass_kg;
    item->tags |= one->tags;
    item->conflicts |= one->conflicts;
    item->worth += one->worth;
    if (one->turn_step_deg > item->turn_step_deg) {
        item->turn_step_deg = one->turn_step_deg;
        item->turn_first_deg = one->turn_first_deg;
    }
}

ks_shelf_item ks_tower_item(const ks_order *order, const ks_tower *tower,
                            const ks_shelf_item *pieces, ks_arena *arena)
{
    ks_part *parts;
    int n = ks_tower_parts(order, tower, arena, &parts);
    ks_shelf_item item = {.n_parts = n, .parts = parts, .stacks = true};
    item.owner = pieces[tower->members[0].piece].owner;
    for (int m = 0; m < tower->n; m++)
        add_member(&item, &pieces[tower->members[m].piece]);
    if (tower->members[0].way == KS_EDGE && !(item.turn_step_deg > 0))
        item.turn_step_deg = 90; /* rows lie square to one another, each tile on the grid */
    return item;
}

static double on_grid(double mm)
{
    return floor(mm * 1000 + 0.5) / 1000; /* KS_GRID, with three decimals */
}

static ks_stand aside(ks_stand stand, double mm)
{
    ks_rotation turned = ks_rotation_of(stand.turn_deg);
    return (ks_stand){on_grid(stand.x - turned.s * mm), on_grid(stand.y + turned.c * mm),
                      stand.turn_deg};
}

ks_stand ks_member_stand(const ks_tower_member *member, ks_stand tower)
{
    return aside(tower, member->aside_mm);
}

ks_stand ks_tower_stand(const ks_tower *tower, ks_stand lowest)
{
    return aside(lowest, -tower->members[0].aside_mm);
}
