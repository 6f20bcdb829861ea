#include "check/check_judge.h"

#include "base/language.h"

#include <string.h>

/* A hostile plan can break a rule millions of times; nobody reads more than these of one rule. */
enum { MOST_BROKEN = 500 };
static const double worst_mm = 1e6; /* what is wrong beyond measure is told as this */

static const struct {
    const char *name, *unit;
} rules[N_RULES] = {
    [RULE_SOUND] = {KS_WORDS("sound"), KS_WORDS("values")},
    [RULE_AGREES] = {KS_WORDS("agrees"), "mm"},
    [RULE_SHAPE] = {KS_WORDS("shape"), "mm"},
    [RULE_TURN] = {KS_WORDS("turn"), KS_WORDS("degrees")},
    [RULE_COUNTS] = {KS_WORDS("counts"), KS_WORDS("pieces")},
    [RULE_MUST_GO] = {KS_WORDS("must go"), KS_WORDS("pieces")},
    [RULE_KEPT] = {KS_WORDS("kept"), "mm"},
    [RULE_SETS] = {KS_WORDS("sets"), KS_WORDS("pieces")},
    [RULE_APART] = {KS_WORDS("apart"), KS_WORDS("pairs")},
    [RULE_SUITS] = {KS_WORDS("suits"), KS_WORDS("pieces")},
    [RULE_QUOTAS] = {KS_WORDS("quotas"), KS_WORDS("pieces or litres")},
    [RULE_CONES] = {KS_WORDS("cones"), KS_WORDS("packs")},
    [RULE_WARE] = {KS_WORDS("ware"), "mm"},
    [RULE_SETTERS] = {KS_WORDS("setters"), "mm"},
    [RULE_UNDER] = {KS_WORDS("under"), "mm"},
    [RULE_WALL] = {KS_WORDS("wall"), "mm"},
    [RULE_LID] = {KS_WORDS("lid"), "mm"},
    [RULE_ABOVE] = {KS_WORDS("above"), "mm"},
    [RULE_NEAR_POSTS] = {KS_WORDS("near posts"), "mm"},
    [RULE_KEEP_OUTS] = {KS_WORDS("keep-outs"), "mm"},
    [RULE_SUPPORT] = {KS_WORDS("support"), "mm"},
    [RULE_OVERHANG] = {KS_WORDS("overhang"), "mm"},
    [RULE_GROG] = {KS_WORDS("grog"), "mm"},
    [RULE_ON] = {KS_WORDS("on"), "mm"},
    [RULE_INSIDES] = {KS_WORDS("insides"), "mm"},
    [RULE_WAYS] = {KS_WORDS("ways"), "mm"},
    [RULE_CARRIES] = {KS_WORDS("carries"), "mm"},
    [RULE_HIGH] = {KS_WORDS("stack height"), KS_WORDS("pieces")},
    [RULE_BURDEN] = {KS_WORDS("carried"), "kg"},
    [RULE_LIDS] = {KS_WORDS("lids"), KS_WORDS("pieces")},
    [RULE_STANDS] = {KS_WORDS("stands"), "mm"},
    [RULE_TILT] = {KS_WORDS("tilt"), "mm"},
    [RULE_DOOR] = {KS_WORDS("door"), "mm"},
    [RULE_LIFTING] = {KS_WORDS("lifting"), "kg"},
    [RULE_SHELVES] = {KS_WORDS("shelves"), "mm"},
    [RULE_POSTS] = {KS_WORDS("posts"), "mm"},
    [RULE_CARRIED] = {KS_WORDS("three posts"), KS_WORDS("posts")},
    [RULE_FLOOR_POSTS] = {KS_WORDS("floor posts"), "mm"},
    [RULE_GAPS] = {KS_WORDS("gaps"), "mm"},
    [RULE_FIRST_GAP] = {KS_WORDS("first gap"), "mm"},
    [RULE_TOP_GAP] = {KS_WORDS("top gap"), "mm"},
    [RULE_SHELF_STOCK] = {KS_WORDS("shelf stock"), KS_WORDS("shelves")},
    [RULE_POST_STOCK] = {KS_WORDS("post stock"), KS_WORDS("posts")},
    [RULE_SHELF_MASS] = {KS_WORDS("shelf mass"), "kg"},
    [RULE_KILN_MASS] = {KS_WORDS("kiln mass"), "kg"},
    [RULE_STEPS] = {KS_WORDS("steps"), KS_WORDS("steps")},
    [RULE_LOAD_ORDER] = {KS_WORDS("load order"), KS_WORDS("steps")},
    [RULE_HAND_ROOM] = {KS_WORDS("hand room"), "mm"},
};

static const char *name(ks_arena *arena, const char *name, int copy)
{
    return copy > 0 ? ks_arena_print(arena, "%s-%d", name, copy) : name;
}

const char *ks_spot_text(const ks_judge *judge, ks_spot where)
{
    ks_arena *arena = judge->arena;
    const char *place =
        where.load < 0 ? ks_tr("plan") : ks_arena_print(arena, "load %d", where.load + 1);
    if (where.level >= 0)
        place = ks_arena_print(arena, "%s, level %s", place, judge->names[where.load][where.level]);
    if (!where.a)
        return place;
    const char *a = name(arena, where.a, where.copy_a);
    if (!where.b)
        return ks_arena_print(arena, "%s: %s", place, a);
    return ks_arena_print(arena, "%s: %s and %s", place, a, name(arena, where.b, where.copy_b));
}

static const char *const remark_names[N_REMARKS] = {
    [REMARK_DUE] = KS_WORDS("due"),     [REMARK_POSTS_FIRST] = KS_WORDS("posts first"),
    [REMARK_SIGHT] = KS_WORDS("sight"), [REMARK_RUNNY] = KS_WORDS("runny"),
    [REMARK_RUMP] = KS_WORDS("rump"),
};

void ks_remark_note(ks_judge *judge, ks_remark_kind kind, ks_spot where)
{
    if (judge->n_remarked[kind]++ >= MOST_BROKEN)
        return;
    judge->remarks =
        KS_GROW(judge->arena, judge->remarks, judge->n_remarks, &judge->remarks_room, ks_remark);
    judge->remarks[judge->n_remarks++] =
        (ks_remark){remark_names[kind], ks_spot_text(judge, where)};
}

bool ks_is_asked(const ks_judge *judge, const char *id, int copy)
{
    for (int i = 0; i < judge->n_about; i++)
        if (judge->about[i]->copy == copy && ks_same_text(judge->about[i]->id, id))
            return true;
    return judge->n_about == 0;
}

static void note_nearby(ks_judge *judge, ks_rule rule, double slack, ks_spot where)
{
    bool first = ks_is_asked(judge, where.a, where.copy_a);
    judge->nearby =
        KS_GROW(judge->arena, judge->nearby, judge->n_nearby, &judge->nearby_room, ks_nearby);
    judge->nearby[judge->n_nearby++] = (ks_nearby){rules[rule].name,
                                                   rules[rule].unit,
                                                   slack,
                                                   first ? where.a : where.b,
                                                   first ? where.copy_a : where.copy_b,
                                                   first ? where.b : where.a,
                                                   first ? where.copy_b : where.copy_a};
}

/* A place where none of those stands that are asked about. */
static bool is_elsewhere(const ks_judge *judge, ks_spot where)
{
    return judge->n_about > 0 && !(where.a && ks_is_asked(judge, where.a, where.copy_a)) &&
           !(where.b && ks_is_asked(judge, where.b, where.copy_b));
}

void ks_note(ks_judge *judge, ks_rule rule, double slack, ks_spot where)
{
    if (is_elsewhere(judge, where))
        return;
    ks_tally *tally = &judge->tallies[rule];
    if (!(slack > -worst_mm))
        slack = -worst_mm;
    slack += 0.0; /* no negative zero in a report */
    if (judge->n_about > 0 && (slack < -KS_GRID - 1e-9 || slack < tally->tightest))
        note_nearby(judge, rule, slack, where);
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
        (ks_rule_broken){rules[rule].name, ks_spot_text(judge, where), -slack, rules[rule].unit};
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
                             .broken = judge->broken,
                             .n_remarks = judge->n_remarks,
                             .remarks = judge->remarks};
    for (int r = 0; r < N_RULES; r++) {
        const ks_tally *tally = &judge->tallies[r];
        bool met = tally->tightest < INFINITY;
        out->rules[r] = (ks_rule_kept){rules[r].name, tally->tightest,
                                       met ? ks_spot_text(judge, tally->spot) : "", rules[r].unit};
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
