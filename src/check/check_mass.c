#include "check/check_judge.h"
#include "studio/lifting.h"
#include "studio/shelf_strength.h"

/* Whether some foot of what stands on the shelf reaches over it. */
static bool reaches(const ks_thing *thing, const ks_shelf *shelf)
{
    for (int p = 0; p < thing->placed->n_parts; p++)
        if (thing->placed->parts[p].from_mm <= KS_GRID &&
            ks_outline_nearer(&thing->placed->parts[p].outline, &shelf->outline, -KS_GRID))
            return true;
    return false;
}

/* A piece weighs on every shelf that its feet reach over, or those of what carries it: how it parts
 * its mass between two is not known. */
static double mass_on(const ks_judge *j, int l, int s)
{
    const ks_level *level = &j->load->levels[l];
    double mass = 0;
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        const ks_thing *below =
            thing->root >= 0 && thing->placed->way != KS_EDGE ? &j->things[thing->root] : thing;
        if (thing->level == l && thing->piece && reaches(below, &level->shelves[s]))
            mass += thing->piece->mass_kg;
    }
    return mass;
}

static double furniture_mass(const ks_judge *j)
{
    double mass = 0;
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++) {
            int kind = j->load->levels[l].shelves[s].kind;
            if (kind >= 0 && kind < j->kiln->n_shelves)
                mass += j->kiln->shelves[kind].mass_kg;
        }
    for (int i = 0; i < j->load->n_posts; i++)
        for (int h = 0; h < j->load->posts[i].n_heights && h < 2; h++)
            for (int k = 0; k < j->kiln->n_posts; k++)
                if (ks_near(j->kiln->posts[k].height_mm, j->load->posts[i].heights_mm[h])) {
                    mass += j->kiln->posts[k].mass_kg;
                    break;
                }
    return mass;
}

static double limit_kg(const ks_judge *j, int level, int shelf)
{
    int kind = j->load->levels[level].shelves[shelf].kind;
    if (kind < 0 || kind >= j->kiln->n_shelves)
        return INFINITY;
    return ks_shelf_limit_kg(&j->kiln->shelves[kind], &j->load->firing,
                             ks_shelf_bending(j->load, level, shelf, j->arena));
}

/* By who and what the order tells is at hand; and through the top no deeper than an arm. */
static void judge_lifting(ks_judge *j)
{
    const ks_rules *rules = &j->order->rules;
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (!thing->piece || thing->piece->n_parts == 0)
            continue;
        ks_lift lift = ks_lift_of(rules, thing->piece, j->kiln);
        double spare = fmin(ks_lift_spare_kg(rules, &lift),
                            ks_arm_spare_kg(rules, thing->piece, j->kiln, thing->z));
        if (spare < INFINITY)
            ks_note(j, RULE_LIFTING, spare, ks_spot_thing(j, thing));
    }
}

void ks_check_mass(ks_judge *j)
{
    if (!j->kiln)
        return;
    judge_lifting(j);
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++) {
            const ks_shelf *shelf = &j->load->levels[l].shelves[s];
            double safe = limit_kg(j, l, s);
            if (safe < INFINITY)
                ks_note(j, RULE_SHELF_MASS, safe - mass_on(j, l, s),
                        ks_spot_level(j, l, ks_text(shelf->id)));
        }
    if (!(j->kiln->mass_limit_kg > 0))
        return;
    double mass = furniture_mass(j);
    for (int i = 0; i < j->n_things; i++)
        mass += j->things[i].piece ? j->things[i].piece->mass_kg : 0;
    ks_note(j, RULE_KILN_MASS, j->kiln->mass_limit_kg - mass, ks_spot_load(j));
}
