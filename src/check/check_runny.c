#include "check/check_judge.h"

/* Glaze that runs: what a loader would see to. Nothing here breaks a rule; `around` does. */

/* Common practice, no source. */
static const double runny_mm = 15;

static bool has_part(const ks_thing *thing, ks_part_kind kind)
{
    for (int p = 0; p < thing->placed->n_parts; p++)
        if (thing->placed->parts[p].kind == kind)
            return true;
    return false;
}

/* Whether parts of one height come nearer to one another. */
static bool are_near(const ks_thing *a, const ks_thing *b)
{
    for (int p = 0; p < a->placed->n_parts; p++)
        for (int q = 0; q < b->placed->n_parts; q++) {
            ks_outline x = ks_thing_widest(a, p), y = ks_thing_widest(b, q);
            if (ks_meet(ks_low_of(a, p), ks_high_of(a, p), ks_low_of(b, q), ks_high_of(b, q)) &&
                ks_box_distance(a->boxes[p], b->boxes[q]) < runny_mm &&
                ks_outline_distance(&x, &y) < runny_mm - KS_GRID)
                return true;
        }
    return false;
}

static bool is_near_post(const ks_thing *thing, const ks_post *post)
{
    for (int p = 0; p < thing->placed->n_parts; p++) {
        ks_outline widest = ks_thing_widest(thing, p);
        if (ks_meet(ks_low_of(thing, p), ks_high_of(thing, p), post->from_mm, post->to_mm) &&
            ks_outline_distance(&widest, &post->outline) < runny_mm - KS_GRID)
            return true;
    }
    return false;
}

static void look_around(ks_judge *j, const ks_thing *thing)
{
    ks_spot where = ks_spot_thing(j, thing);
    where.b = "a post";
    for (int i = 0; i < j->load->n_posts; i++)
        if (is_near_post(thing, &j->load->posts[i])) {
            ks_remark_note(j, REMARK_RUNNY, where);
            break;
        }
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *other = &j->things[i];
        bool told_already = other->runny && other < thing;
        if (other != thing && other->level == thing->level && !told_already &&
            are_near(thing, other))
            ks_remark_note(j, REMARK_RUNNY, ks_spot_pair(j, thing, other));
    }
}

void ks_check_runny(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (!thing->runny || has_part(thing, KS_PART_COOKIE))
            continue;
        look_around(j, thing);
        ks_spot where = ks_spot_thing(j, thing);
        where.b = "the shelf, with no stilt or cookie";
        if (thing->piece->stage == KS_FIRED && !has_part(thing, KS_PART_STILT))
            ks_remark_note(j, REMARK_RUNNY, where);
    }
}
