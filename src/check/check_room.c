#include "check/check_judge.h"

/* What a piece keeps from the kiln: wall, lid, shelves over and beside it, posts, keep-outs, door.
 */

static void within_walls(ks_judge *j, const ks_thing *thing, int part)
{
    ks_outline widest = ks_thing_widest(thing, part);
    for (int i = 0; i < j->load->n_parts; i++) {
        const ks_chamber_part *room = &j->load->parts[i];
        if (!ks_meet(ks_low_of(thing, part), ks_high_of(thing, part), room->from_mm, room->to_mm))
            continue;
        double slack = ks_outline_inside(&widest, &room->outline) - j->load->clearance.wall;
        ks_note(j, RULE_WALL, slack, ks_spot_thing(j, thing));
    }
}

/* Beside a shelf of another level ware needs what it needs from a post, but no more than half of
 * what it needs from other ware; unglazed ware may touch. */
static double beside_mm(const ks_judge *j, const ks_thing *thing)
{
    const ks_clearance *clear = &j->load->clearance;
    if (!thing->placed->glazed)
        return 0;
    return clear->post < clear->ware / 2 ? clear->post : clear->ware / 2;
}

static void under_shelf(ks_judge *j, const ks_thing *thing, int part, const ks_level *level,
                        const ks_shelf *shelf)
{
    double low = ks_low_of(thing, part), high = ks_high_of(thing, part);
    if (level->z_mm <= low + KS_GRID)
        return;
    double gap = level->z_mm - shelf->thickness_mm - high - j->load->clearance.above, slack = gap;
    ks_outline widest = ks_thing_widest(thing, part);
    if (gap + j->load->clearance.above >= -KS_GRID &&
        !ks_outline_nearer(&widest, &shelf->outline, beside_mm(j, thing)))
        return;
    if (gap < 0)
        slack = fmax(gap, ks_outline_distance(&widest, &shelf->outline) - beside_mm(j, thing));
    ks_note(j, RULE_ABOVE, slack, ks_spot_thing(j, thing));
}

static void under_shelves(ks_judge *j, const ks_thing *thing, int part)
{
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; l != thing->level && s < j->load->levels[l].n_shelves; s++)
            under_shelf(j, thing, part, &j->load->levels[l], &j->load->levels[l].shelves[s]);
}

static void beside_posts(ks_judge *j, const ks_thing *thing, int part)
{
    ks_outline widest = ks_thing_widest(thing, part);
    for (int i = 0; i < j->load->n_posts; i++) {
        const ks_post *post = &j->load->posts[i];
        if (!ks_meet(ks_low_of(thing, part), ks_high_of(thing, part), post->from_mm, post->to_mm))
            continue;
        ks_spot where = ks_spot_thing(j, thing);
        where.b = "a post";
        double own = thing->runny ? thing->placed->around_mm : 0;
        double slack =
            ks_outline_distance(&widest, &post->outline) - fmax(j->load->clearance.post, own);
        ks_note(j, RULE_NEAR_POSTS, slack, where);
    }
}

static double from_keep_out(const ks_keep_out *out, const ks_outline *shape, double low,
                            double high)
{
    double aside = ks_outline_distance(shape, &out->outline) - out->clearance_mm;
    double gap = ks_gap_between(low, high, out->from_mm, out->to_mm) - out->clearance_mm;
    return aside > gap ? aside : gap;
}

static void beside_keep_outs(ks_judge *j, const ks_outline *shape, double low, double high,
                             ks_spot where)
{
    for (int i = 0; i < j->load->n_keep_outs; i++) {
        where.b = ks_text(j->load->keep_outs[i].kind);
        ks_note(j, RULE_KEEP_OUTS, from_keep_out(&j->load->keep_outs[i], shape, low, high), where);
    }
}

static void shelves_beside_keep_outs(ks_judge *j)
{
    for (int l = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        for (int s = 0; s < level->n_shelves; s++) {
            const ks_shelf *shelf = &level->shelves[s];
            beside_keep_outs(j, &shelf->outline, level->z_mm - shelf->thickness_mm, level->z_mm,
                             ks_spot_level(j, l, ks_text(shelf->id)));
        }
    }
}

/* The narrowest a piece can be turned for the door, tried each degree. */
static double narrowest_mm(const ks_placed *placed)
{
    double narrowest = INFINITY;
    for (int turn = 0; turn < 180; turn++) {
        ks_rotation to = ks_rotation_of(turn);
        double least = INFINITY, most = -INFINITY;
        for (int p = 0; p < placed->n_parts; p++) {
            const ks_outline *shape = &placed->parts[p].outline;
            for (int i = 0; i < shape->n; i++) {
                double x = to.c * shape->at[i].x + to.s * shape->at[i].y;
                least = x - shape->round < least ? x - shape->round : least;
                most = x + shape->round > most ? x + shape->round : most;
            }
        }
        narrowest = most - least < narrowest ? most - least : narrowest;
    }
    return narrowest;
}

double ks_check_lintel(const ks_judge *j, double low_mm, double tall_mm)
{
    const ks_kiln *kiln = j->kiln;
    if (!kiln || kiln->loading != KS_FRONT_LOADER || kiln->opening_height_mm <= 0)
        return INFINITY;
    double sill = kiln->opening_sill_mm;
    return sill + kiln->opening_height_mm - (fmax(low_mm, sill) + tall_mm);
}

static void through_door(ks_judge *j, const ks_thing *thing)
{
    if (!j->kiln || j->kiln->loading != KS_FRONT_LOADER || thing->placed->n_parts == 0)
        return;
    double high = ks_check_lintel(j, thing->low, thing->high - thing->low);
    double wide = j->kiln->opening_width_mm;
    if (high < INFINITY)
        ks_note(j, RULE_DOOR, high, ks_spot_thing(j, thing));
    if (wide > 0)
        ks_note(j, RULE_DOOR, wide - narrowest_mm(thing->placed), ks_spot_thing(j, thing));
}

void ks_check_room(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        double lid = j->load->height_mm - thing->high - j->load->clearance.lid;
        ks_note(j, RULE_LID, lid, ks_spot_thing(j, thing));
        for (int p = 0; p < thing->placed->n_parts; p++) {
            ks_outline widest = ks_thing_widest(thing, p);
            within_walls(j, thing, p);
            under_shelves(j, thing, p);
            beside_posts(j, thing, p);
            beside_keep_outs(j, &widest, ks_low_of(thing, p), ks_high_of(thing, p),
                             ks_spot_thing(j, thing));
        }
        through_door(j, thing);
    }
    shelves_beside_keep_outs(j);
}
