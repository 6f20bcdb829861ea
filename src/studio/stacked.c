#include "studio/stacked.h"

#include "studio/parts.h"

#include <math.h>
#include <string.h>

/* Plates and saucers stand a sixth of their breadth high and less, bowls a third and more. */
static const double flat_share = 0.25;

bool ks_piece_is_tile(const ks_piece *piece)
{
    return piece->n_parts == 1 && piece->parts[0].hollow.n == 0 && piece->parts[0].outline.n > 1 &&
           piece->parts[0].to_mm <= KS_TILE_MM;
}

static double breadth_mm(const ks_piece *piece)
{
    double widest = 0;
    for (int p = 0; p < piece->n_parts; p++) {
        ks_box box = ks_outline_box(&piece->parts[p].outline);
        widest = fmax(widest, fmax(box.x1 - box.x0, box.y1 - box.y0));
    }
    return widest;
}

bool ks_piece_is_flat(const ks_piece *piece)
{
    return ks_piece_is_tile(piece) || piece->height_mm <= flat_share * breadth_mm(piece);
}

bool ks_piece_is_open(const ks_piece *piece)
{
    for (int p = 0; p < piece->n_parts; p++)
        if (piece->parts[p].hollow.n > 0)
            return true;
    return false;
}

unsigned ks_ways_usual(const ks_piece *piece)
{
    if (piece->glazed || piece->stage == KS_LEATHER || piece->has_setter || piece->n_joints > 0 ||
        piece->role != KS_WARE || piece->runny)
        return 0;
    if (ks_piece_is_tile(piece))
        return KS_WAY_BIT(KS_PILE) | KS_WAY_BIT(KS_EDGE);
    if (ks_piece_is_flat(piece))
        return KS_WAY_BIT(KS_PILE);
    return ks_piece_is_open(piece) ? KS_WAY_BIT(KS_NEST) | KS_WAY_BIT(KS_RIM) : KS_WAY_BIT(KS_NEST);
}

double ks_parts_apart_mm(const ks_part *a, const ks_part *b)
{
    double apart = ks_outline_distance(&a->outline, &b->outline);
    if (apart < 0 && a->hollow.n > 0)
        apart = fmax(apart, ks_outline_inside(&b->outline, &a->hollow));
    if (apart < 0 && b->hollow.n > 0)
        apart = fmax(apart, ks_outline_inside(&a->outline, &b->hollow));
    return apart;
}

double ks_parts_rise_mm(const ks_part *lower, int n_lower, const ks_part *upper, int n_upper,
                        double near_mm)
{
    double rise = -INFINITY;
    for (int i = 0; i < n_lower; i++)
        for (int k = 0; k < n_upper; k++) {
            double over = lower[i].to_mm - upper[k].from_mm;
            if (over > rise && ks_parts_apart_mm(&lower[i], &upper[k]) < near_mm)
                rise = over;
        }
    return rise;
}

int ks_piece_posed(const ks_piece *piece, ks_pose pose, ks_arena *arena, ks_part **parts)
{
    ks_part_list list = {.arena = arena, .n = piece->n_parts, .room = piece->n_parts};
    list.at = KS_TAKE(arena, piece->n_parts, ks_part);
    memcpy(list.at, piece->parts, (size_t)piece->n_parts * sizeof *list.at);
    if (pose != piece->pose)
        ks_parts_posed(&list, pose);
    *parts = list.at;
    return list.n;
}

static ks_outline block(double along, double across, ks_arena *arena)
{
    ks_outline sides = ks_outline_rectangle(along, across, 0, arena);
    return ks_outline_gridded(&sides, arena);
}

ks_part ks_part_leaning(const ks_part *on_edge, ks_arena *arena)
{
    ks_box box = ks_outline_box(&on_edge->outline);
    double lean = KS_LEAN * (on_edge->to_mm - on_edge->from_mm);
    ks_part part = *on_edge;
    part.outline = block(box.x1 - box.x0, box.y1 - box.y0 + lean, arena);
    return part;
}

/* Volume of a part's wall, and of all of it where nothing would be left. */
static double solid_mm3(const ks_part *part)
{
    double area = ks_outline_area(&part->outline);
    double room = part->hollow.n > 0 ? ks_outline_area(&part->hollow) : 0;
    return (room < area ? area - room : area) * (part->to_mm - part->from_mm);
}

ks_mass_centre ks_parts_mass_centre(const ks_part *parts, int n)
{
    ks_mass_centre at = {0, 0, 0};
    double all = 0;
    for (int i = 0; i < n; i++) {
        double mass = solid_mm3(&parts[i]);
        ks_point middle = ks_outline_centroid(&parts[i].outline);
        at.x += mass * middle.x;
        at.y += mass * middle.y;
        at.z += mass * (parts[i].from_mm + parts[i].to_mm) / 2;
        all += mass;
    }
    return (ks_mass_centre){at.x / all, at.y / all, at.z / all};
}
