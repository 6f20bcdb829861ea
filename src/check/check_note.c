#include "check/check_judge.h"

#include <string.h>

/* A hostile plan can break a rule millions of times; nobody reads more than these of one rule. */
enum { MOST_BROKEN = 500 };
static const double worst_mm = 1e6; /* what is wrong beyond measure is told as this */

static const struct {
    const char *name, *unit;
} rules[N_RULES] = {
    [RULE_SOUND] = {"sound", "values"},
    [RULE_AGREES] = {"agrees", "mm"},
    [RULE_SHAPE] = {"shape", "mm"},
    [RULE_TURN] = {"turn", "degrees"},
    [RULE_COUNTS] = {"counts", "pieces"},
    [RULE_MUST_GO] = {"must go", "pieces"},
    [RULE_KEPT] = {"kept", "mm"},
    [RULE_SETS] = {"sets", "pieces"},
    [RULE_APART] = {"apart", "pairs"},
    [RULE_SUITS] = {"suits", "pieces"},
    [RULE_QUOTAS] = {"quotas", "pieces or litres"},
    [RULE_CONES] = {"cones", "packs"},
    [RULE_WARE] = {"ware", "mm"},
    [RULE_SETTERS] = {"setters", "mm"},
    [RULE_UNDER] = {"under", "mm"},
    [RULE_WALL] = {"wall", "mm"},
    [RULE_LID] = {"lid", "mm"},
    [RULE_ABOVE] = {"above", "mm"},
    [RULE_NEAR_POSTS] = {"near posts", "mm"},
    [RULE_KEEP_OUTS] = {"keep-outs", "mm"},
    [RULE_SUPPORT] = {"support", "mm"},
    [RULE_OVERHANG] = {"overhang", "mm"},
    [RULE_GROG] = {"grog", "mm"},
    [RULE_ON] = {"on", "mm"},
    [RULE_STANDS] = {"stands", "mm"},
    [RULE_TILT] = {"tilt", "mm"},
    [RULE_DOOR] = {"door", "mm"},
    [RULE_LIFTING] = {"lifting", "kg"},
    [RULE_SHELVES] = {"shelves", "mm"},
    [RULE_POSTS] = {"posts", "mm"},
    [RULE_CARRIED] = {"three posts", "posts"},
    [RULE_FLOOR_POSTS] = {"floor posts", "mm"},
    [RULE_GAPS] = {"gaps", "mm"},
    [RULE_FIRST_GAP] = {"first gap", "mm"},
    [RULE_TOP_GAP] = {"top gap", "mm"},
    [RULE_SHELF_STOCK] = {"shelf stock", "shelves"},
    [RULE_POST_STOCK] = {"post stock", "posts"},
    [RULE_SHELF_MASS] = {"shelf mass", "kg"},
    [RULE_KILN_MASS] = {"kiln mass", "kg"},
    [RULE_STEPS] = {"steps", "steps"},
    [RULE_LOAD_ORDER] = {"load order", "steps"},
    [RULE_HAND_ROOM] = {"hand room", "mm"},
};

static const char *name(ks_arena *arena, const char *name, int copy)
{
    return copy > 0 ? ks_arena_print(arena, "%s-%d", name, copy) : name;
}

/* A load that is not sound has no columns to count levels in: there the index alone is told. */
static const char *level_words(const ks_judge *judge, ks_spot where)
{
    const char **names = judge->names[where.load];
    return names ? ks_arena_print(judge->arena, "level %s", names[where.level])
                 : ks_arena_print(judge->arena, "levels[%d]", where.level);
}

static const char *text_of(const ks_judge *judge, ks_spot where)
{
    ks_arena *arena = judge->arena;
    const char *place = where.load < 0 ? "plan" : ks_arena_print(arena, "load %d", where.load + 1);
    if (where.level >= 0)
        place = ks_arena_print(arena, "%s, %s", place, level_words(judge, where));
    if (!where.a)
        return place;
    const char *a = name(arena, where.a, where.copy_a);
    if (!where.b)
        return ks_arena_print(arena, "%s: %s", place, a);
    return ks_arena_print(arena, "%s: %s and %s", place, a, name(arena, where.b, where.copy_b));
}

void ks_note(ks_judge *judge, ks_rule rule, double slack, ks_spot where)
{
    ks_tally *tally = &judge->tallies[rule];
    if (!(slack > -worst_mm))
        slack = -worst_mm;
    slack += 0.0; /* no negative zero in a report */
    if (slack < tally->tightest) {
        tally->tightest = slack;
        tally->spot = where;
    }
    if (slack >= -KS_GRID - 1e-9 || tally->n_broken >= MOST_BROKEN)
        return;
    tally->n_broken++;
    judge->broken =
        KS_GROW(judge->arena, judge->broken, judge->n_broken, &judge->room, ks_rule_broken);
    judge->broken[judge->n_broken++] =
        (ks_rule_broken){rules[rule].name, text_of(judge, where), -slack, rules[rule].unit};
}

bool ks_is_dull(const ks_judge *judge, ks_rule rule, double slack)
{
    return slack >= 0 && slack >= judge->tallies[rule].tightest;
}

ks_spot ks_spot_load(const ks_judge *judge)
{
    return (ks_spot){.load = judge->number, .level = -1};
}

ks_spot ks_spot_level(const ks_judge *judge, int level, const char *what)
{
    return (ks_spot){.load = judge->number, .level = level, .a = what};
}

ks_spot ks_spot_thing(const ks_judge *judge, const ks_thing *thing)
{
    return (ks_spot){.load = judge->number,
                     .level = thing->level,
                     .a = ks_text(thing->placed->id),
                     .copy_a = thing->placed->copy};
}

ks_spot ks_spot_pair(const ks_judge *judge, const ks_thing *a, const ks_thing *b)
{
    ks_spot where = ks_spot_thing(judge, a);
    where.b = ks_text(b->placed->id);
    where.copy_b = b->placed->copy;
    return where;
}

void ks_report_make(ks_judge *judge, ks_check_report *out)
{
    *out = (ks_check_report){.ok = judge->n_broken == 0,
                             .n_rules = N_RULES,
                             .rules = KS_TAKE(judge->arena, N_RULES, ks_rule_kept),
                             .n_broken = judge->n_broken,
                             .broken = judge->broken};
    for (int r = 0; r < N_RULES; r++) {
        const ks_tally *tally = &judge->tallies[r];
        bool met = tally->tightest < INFINITY;
        out->rules[r] = (ks_rule_kept){rules[r].name, tally->tightest,
                                       met ? text_of(judge, tally->spot) : "", rules[r].unit};
    }
}

bool ks_same_text(const char *a, const char *b)
{
    return strcmp(ks_text(a), ks_text(b)) == 0;
}

bool ks_is_setter(ks_part_kind kind)
{
    return kind != KS_PART_FOOT && kind != KS_PART_BODY;
}

double ks_box_distance(ks_box a, ks_box b)
{
    double x = ks_gap_between(a.x0, a.x1, b.x0, b.x1), y = ks_gap_between(a.y0, a.y1, b.y0, b.y1);
    return x > y ? x : y;
}

ks_outline ks_thing_widest(const ks_thing *thing, int part)
{
    return ks_part_widest(&thing->placed->parts[part], thing->outward_mm);
}

static double one_sided(const ks_outline *a, const ks_outline *b)
{
    ks_outline edge = {b->n, b->at, 0};
    double most = 0;
    for (int i = 0; i < a->n; i++)
        most = fmax(most, fabs(ks_outline_from_point(&edge, a->at[i])));
    return most;
}

/* Vertex by vertex; where one has lost vertices that fell together, by their distance from the
 * other's edges, which leaves nothing out since both are polygons. */
double ks_outline_difference(const ks_outline *a, const ks_outline *b)
{
    double most = fabs(a->round - b->round);
    if (isnan(most))
        return INFINITY; /* fmax would drop it */
    if (a->n != b->n)
        return fmax(most, fmax(one_sided(a, b), one_sided(b, a)));
    for (int i = 0; i < a->n; i++) {
        double x = a->at[i].x - b->at[i].x, y = a->at[i].y - b->at[i].y;
        double off = sqrt(x * x + y * y);
        most = off <= most ? most : isnan(off) ? INFINITY : off;
    }
    return most;
}
