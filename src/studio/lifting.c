#include "studio/lifting.h"

#include "base/language.h"
#include "studio/display.h"
#include "studio/parts.h"

#include <math.h>

double ks_lifting_limit_kg(double reach_mm, double hands_mm, double lifted_by_mm)
{
    double h = fmax(25, reach_mm / 10), v = fmin(175, fmax(0, hands_mm / 10));
    double d = fmin(175, fmax(25, fabs(lifted_by_mm) / 10));
    if (h > 63.5)
        return 0;
    return 23 * (25 / h) * (1 - 0.003 * fabs(v - 75)) * (0.82 + 4.5 / d);
}

double ks_lift_team_kg(const ks_lift *lift, int people)
{
    static const double part[] = {0, 1, 2.0 / 3, 0.5};
    int team = people < KS_LIFTERS_MOST ? people : KS_LIFTERS_MOST;
    return team == 1 ? lift->alone_kg : team * part[team] * lift->each_kg;
}

static int people_needed(const ks_lift *lift)
{
    for (int people = 1; people <= KS_LIFTERS_MOST; people++)
        if (lift->mass_kg <= ks_lift_team_kg(lift, people))
            return people;
    return 0;
}

static double hoist_needed_kg(double mass_kg)
{
    return 5 * ceil(mass_kg / 5);
}

/* Kiln wall with its casing, and from there to the ankles: typical, no source. */
static const double wall_mm = 100, body_mm = 100;

/* Least and greatest width of a box. */
typedef struct {
    double least_mm, most_mm;
} widths;

static widths widths_of(ks_box box)
{
    double x = fmax(0, box.x1 - box.x0), y = fmax(0, box.y1 - box.y0);
    return (widths){fmin(x, y), fmax(x, y)};
}

static double reach_over_mm(double wide_mm)
{
    return wide_mm / 2 + body_mm + wall_mm;
}

static double reach_mm(const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    return kiln->loading == KS_FRONT_LOADER ? (box.y1 - box.y0) / 2 + body_mm
                                            : reach_over_mm(widths_of(box).least_mm);
}

/* From the height of a table to the kiln's floor; into a top loader first over its rim. */
static double alone_kg(const ks_kiln *kiln, double reach)
{
    const double table_mm = 750;
    double floor = kiln->floor_above_ground_mm, rim = kiln->rim_above_ground_mm;
    double in = ks_lifting_limit_kg(reach, floor, floor - table_mm);
    if (kiln->loading != KS_TOP_LOADER || !(rim > 0))
        return in;
    return fmin(in, ks_lifting_limit_kg(body_mm + wall_mm, rim, rim - table_mm));
}

static widths form_widths(const ks_piece *piece)
{
    ks_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int p = 0; p < piece->n_parts; p++) {
        ks_box box = ks_outline_box(&piece->parts[p].outline);
        if (!ks_part_of_setter(piece->parts[p].kind))
            all = (ks_box){fmin(all.x0, box.x0), fmin(all.y0, box.y0), fmax(all.x1, box.x1),
                           fmax(all.y1, box.y1)};
    }
    return widths_of(all);
}

/* Of several, each at an end of it or at a side. Over a rim they stand face to face: a form that is
 * shorter than the kiln is wide lies across, a longer one along it. At a door nobody stands behind.
 */
static double near_reach_mm(const ks_kiln *kiln, const ks_piece *piece)
{
    widths form = form_widths(piece), chamber = widths_of(ks_outline_box(&kiln->parts[0].outline));
    double over_side = reach_mm(kiln) - form.least_mm / 2;
    if (kiln->loading == KS_FRONT_LOADER)
        return over_side;
    double wide = form.most_mm <= chamber.least_mm ? chamber.least_mm : chamber.most_mm;
    return fmin(over_side, reach_over_mm(wide) - form.most_mm / 2);
}

ks_lift ks_lift_of(const ks_rules *rules, const ks_piece *piece, const ks_kiln *kiln)
{
    ks_lift lift = {.mass_kg = piece->has_setter ? piece->bare_mass_kg : piece->mass_kg};
    lift.reach_mm = reach_mm(kiln);
    lift.alone_kg = alone_kg(kiln, lift.reach_mm);
    lift.each_kg = alone_kg(kiln, near_reach_mm(kiln, piece));
    lift.people = people_needed(&lift);
    lift.hoist_kg = hoist_needed_kg(lift.mass_kg);
    lift.at_hand = ks_lift_spare_kg(rules, &lift) >= 0;
    return lift;
}

ks_reason ks_lift_needs(const ks_lift *lift)
{
    if (lift->people > 0)
        return (ks_reason){.name = KS_CHANGE_PEOPLE, .people = lift->people};
    return (ks_reason){.name = KS_CHANGE_HOIST, .hoist_kg = lift->hoist_kg};
}

const char *ks_lift_who(const ks_lift *lift, const ks_display *display, ks_arena *arena)
{
    if (lift->people > 0)
        return ks_arena_print(arena, ks_tr_count(lift->people, "%d person", "%d people"),
                              lift->people);
    return ks_arena_print(arena, "a hoist for %s or more",
                          ks_show_burden(display, lift->hoist_kg, 1, arena));
}

double ks_lift_spare_kg(const ks_rules *rules, const ks_lift *lift)
{
    if (rules->lifters <= 0 && !(rules->hoist_kg > 0))
        return INFINITY;
    return fmax(ks_lift_team_kg(lift, rules->lifters), rules->hoist_kg) - lift->mass_kg;
}

double ks_arm_spare_kg(const ks_rules *rules, const ks_piece *piece, const ks_kiln *kiln,
                       double z_mm)
{
    double deep = kiln->height_mm - z_mm - piece->height_mm / 2;
    bool reached = kiln->loading != KS_TOP_LOADER || !(rules->arm_mm > 0) || deep <= rules->arm_mm;
    if (reached || rules->hoist_kg >= piece->bare_mass_kg)
        return INFINITY;
    return rules->heavy_kg - piece->bare_mass_kg;
}
