#include "studio/forms/hollow.h"

#include <math.h>

/* Least radius, at a height, of what lies nearer than `wall` to a straight piece of the surface. */
static double edge_at(ks_point a, ks_point b, double wall, double height)
{
    double rise = b.x - a.x, out = b.y - a.y, length = sqrt(rise * rise + out * out);
    double least = INFINITY;
    const ks_point ends[2] = {a, b};
    for (int e = 0; e < 2; e++) {
        double off = height - ends[e].x;
        if (fabs(off) <= wall)
            least = fmin(least, ends[e].y - sqrt(wall * wall - off * off));
    }
    if (rise <= 0)
        return least;
    double along = (height - wall * out / length - a.x) / rise;
    return along >= 0 && along <= 1 ? fmin(least, a.y + out * along - wall * rise / length) : least;
}

static double clamped(double value, double least, double most)
{
    return fmax(least, fmin(value, most));
}

/* The same between two heights: what lies near a straight piece is convex, so that its edge is
 * least as near as may be to where the whole of it is. */
static double edge_between(ks_point a, ks_point b, double wall, double from, double to)
{
    double where = a.y < b.y ? a.x : b.y < a.y ? b.x : clamped(from, a.x, b.x);
    return edge_at(a, b, wall, clamped(where, from, to));
}

double ks_hollow_radius_mm(const ks_hollow_form *form, double from_mm, double to_mm)
{
    double least = INFINITY;
    if (from_mm < form->floor_mm)
        return 0;
    for (int i = 0; i + 1 < form->n; i++)
        least = fmin(least, edge_between(form->profile[i], form->profile[i + 1], form->wall_mm,
                                         from_mm, to_mm));
    return fmax(least, 0);
}

double ks_form_radius_mm(const ks_hollow_form *form, double from_mm, double to_mm)
{
    double widest = fmax(ks_profile_radius(form->profile, form->n, from_mm),
                         ks_profile_radius(form->profile, form->n, to_mm));
    for (int i = 0; i < form->n; i++)
        if (form->profile[i].x >= from_mm && form->profile[i].x <= to_mm)
            widest = fmax(widest, form->profile[i].y);
    return widest;
}

void ks_hollow_cone_add(const ks_hollow_cone *room, const ks_outline *body, ks_part_list *list)
{
    enum { STEPS = 12 };
    double from = room->from_mm;
    bool straight = room->low_r_mm >= room->high_r_mm;
    for (int i = 0; i <= STEPS; i++) {
        double share = straight ? (i > 0) : (double)i / STEPS;
        double to = room->floor_mm + (room->to_mm - room->floor_mm) * share;
        double before = straight || i == 0 ? 0 : (double)(i - 1) / STEPS;
        if (to <= from)
            continue;
        ks_part_add(list, KS_PART_BODY, from, to, *body);
        if (i > 0)
            list->at[list->n - 1].hollow = ks_outline_disc(
                0, 0, room->low_r_mm + (room->high_r_mm - room->low_r_mm) * before, list->arena);
        from = to;
    }
}
