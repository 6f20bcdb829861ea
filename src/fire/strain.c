/* Whether the firing asks more of a wall than it bears, whoever wrote the schedule: the curve of
 * its own place in the load against bears.h. Feet on shelves are not judged: only the schedules
 * worked out here spare them. */
#include "fire/case.h"

#include "studio/display.h"

#include <math.h>
#include <string.h>

typedef enum { BY_WATER, BY_STEAM, BY_CARBON, BY_HEATING, BY_COOLING, STRAIN_KINDS } penalty_kind;
static const char *const kind_names[] = {"water", "steam", "carbon", "heating", "cooling"};

/* The worst of a kind so far. */
typedef struct {
    ks_wall wall;
    double excess; /* 1 = just borne */
    double at_c, at_h, went, bears;
    int kinds; /* of ware */
    int last_piece;
} worst;

typedef struct {
    const ks_fire_case *asked;
    const ks_firing_result *out;
    double now_h;
    worst kinds[STRAIN_KINDS];
} judge;

/* Rates between points scatter by so much about what was asked. */
#define BORNE 1.15

static void note(judge *j, penalty_kind kind, const ks_wall *wall, double at_c, double went,
                 double bears, double excess)
{
    worst *w = &j->kinds[kind];
    if (excess <= BORNE)
        return;
    if (w->kinds == 0 || w->last_piece != wall->need->piece)
        w->kinds++;
    w->last_piece = wall->need->piece;
    if (excess > w->excess) {
        int kinds = w->kinds, last = w->last_piece;
        *w = (worst){*wall, excess, at_c, j->now_h, went, bears, kinds, last};
    }
}

/* What a wall has been through so far. */
typedef struct {
    double dry_fourier, wet_fourier, burning_h, hottest_c;
    bool past_boiling;
} past;

static double water_left(const ks_wall *wall, const past *p)
{
    double dry = DRY_WATER * ks_slab_left(p->dry_fourier);
    return wall->is_wet ? dry + (LEATHER_WATER - DRY_WATER) * ks_slab_left(p->wet_fourier) : dry;
}

#define WATER_BORNE 0.03 /* brickmakers let in 2 to 3 % */

static void judge_water(judge *j, const ks_wall *wall, past *p, double temp_c, double hours,
                        double rate)
{
    double square = wall->half_m * wall->half_m;
    if (temp_c < 100) {
        p->dry_fourier += ks_hygroscopic_diffusivity(temp_c) * hours * 3600 / square;
        p->wet_fourier += ks_liquid_diffusivity(temp_c) * hours * 3600 / square;
        return;
    }
    double left = water_left(wall, p);
    if (!p->past_boiling)
        note(j, BY_WATER, wall, 100, left, WATER_BORNE, left / WATER_BORNE);
    p->past_boiling = true;
    double bears = ks_bears_steam_k_h(wall->half_m, left + BOUND_WATER);
    if (temp_c < 220 && p->hottest_c < 220)
        note(j, BY_STEAM, wall, temp_c, rate, bears, rate / bears);
}

static void judge_stress(judge *j, const ks_wall *wall, const past *p, double temp_c, double rate)
{
    bool cooling = rate < 0;
    const ks_body_state *body = p->hottest_c < 900    ? wall->body
                                : p->hottest_c < 1100 ? &ks_bisque
                                                      : &ks_vitrified;
    if (cooling && temp_c > 800)
        return; /* glass in it still gives */
    double bears = ks_bears_rate_k_h(body, wall->half_m, temp_c, cooling);
    note(j, cooling ? BY_COOLING : BY_HEATING, wall, temp_c, fabs(rate), bears, fabs(rate) / bears);
}

static double at(const ks_fire_point *point, int level, bool middle)
{
    return middle ? point->middle_c[level] : point->edge_c[level];
}

static void judge_wall(judge *j, const ks_wall *wall, int level, bool middle)
{
    past p = {0};
    const ks_fire_point *points = j->out->points;
    for (int i = 1; i < j->out->n_points; i++) {
        double hours = points[i].time_h - points[i - 1].time_h;
        double from_c = at(&points[i - 1], level, middle), to_c = at(&points[i], level, middle);
        if (!(hours > 1e-6))
            continue;
        j->now_h = 0.5 * (points[i].time_h + points[i - 1].time_h);
        double temp_c = 0.5 * (from_c + to_c), rate = (to_c - from_c) / hours;
        if (wall->is_raw)
            judge_water(j, wall, &p, temp_c, hours, rate);
        p.burning_h += temp_c > 600 && temp_c < 900 && rate > -20 ? hours : 0;
        /* a span too short to tell a rate from */
        if (hours > 0.02)
            judge_stress(j, wall, &p, temp_c, rate);
        p.hottest_c = fmax(p.hottest_c, temp_c);
    }
    double needs_h = ks_burn_out_h(wall->half_m, ORGANIC_CARBON, 0.21, 800);
    if (wall->is_raw && p.hottest_c > 900)
        note(j, BY_CARBON, wall, 800, p.burning_h, needs_h, needs_h / fmax(p.burning_h, 1e-3));
}

static void judge_need(judge *j, const ks_need *need, int level, bool middle)
{
    ks_wall walls[WALLS];
    int n = ks_walls_of(need, walls);
    for (int k = 0; k < n; k++)
        judge_wall(j, &walls[k], level, middle);
}

/* A kind of ware is judged once at each place (level, edge or middle) where a copy stands. */
static void place_judge(judge *j, const ks_need *need)
{
    const ks_load *load = &j->asked->plan->loads[j->asked->options.load];
    for (int l = 0; l < load->n_levels; l++) {
        bool there[2] = {false, false};
        for (int i = 0; i < load->levels[l].n_pieces; i++)
            if (load->levels[l].pieces[i].piece == need->piece)
                there[!ks_stands_at_edge(load, &load->levels[l], load->levels[l].pieces[i].stand)] =
                    true;
        for (int middle = 0; middle < 2; middle++)
            if (there[middle])
                judge_need(j, need, l, middle);
    }
}

static const char *what_words(const judge *j, penalty_kind kind, ks_arena *arena)
{
    const worst *w = &j->kinds[kind];
    const ks_display *display = j->asked->display;
    const char *wall = ks_wall_words(&w->wall, display, arena);
    const char *at_c = ks_show_temp(display, w->at_c, arena);
    const char *went = ks_show_rate(display, w->went, arena),
               *bears = ks_show_rate(display, w->bears, arena);
    bool quartz = w->at_c > 549 && w->at_c < 574;
    switch (kind) {
    case BY_WATER:
        return ks_arena_print(arena,
                              "%s still holds %.0f %% of water at boiling and bursts: let it dry "
                              "first, or hold below boiling",
                              wall, 100 * w->went);
    case BY_STEAM:
        return ks_arena_print(
            arena,
            "steam: %s rises at %s at %s and bears %s: hold longer at %s, or rise "
            "slower to %s",
            wall, went, at_c, bears, ks_show_temp(display, 90, arena),
            ks_show_temp(display, 220, arena));
    case BY_CARBON:
        return ks_arena_print(arena,
                              "carbon: %s has %.1f h between %s and %s and needs %.1f h (within a "
                              "factor of 2), or it blackens and bloats: hold at %s",
                              wall, w->went, ks_show_temp(display, 600, arena),
                              ks_show_temp(display, 900, arena), w->bears,
                              ks_show_temp(display, 820, arena));
    case BY_HEATING:
        return ks_arena_print(arena, "%s rises at %s at %s%s and bears %s: slow down there", wall,
                              went, at_c, quartz ? ", where its quartz grows," : "", bears);
    default:
        if (j->asked->kiln.heat.control == KS_BY_SWITCHES)
            return ks_arena_print(arena,
                                  "%s cools at %s at %s%s and bears %s: turn it on at low again "
                                  "before it gets there, half an hour at a time, or fire it where "
                                  "a controller cools",
                                  wall, went, at_c, quartz ? ", where its quartz shrinks," : "",
                                  bears);
        return ks_arena_print(arena,
                              "%s cools at %s at %s%s and bears %s: cool under control there", wall,
                              went, at_c, quartz ? ", where its quartz shrinks," : "", bears);
    }
}

void ks_fire_case_strains(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out)
{
    judge j = {.asked = asked, .out = out};
    for (int i = 0; i < asked->needs.n; i++) {
        if (asked->plan)
            place_judge(&j, &asked->needs.needs[i]);
        for (int l = 0; l < 2 * out->n_levels && !asked->plan; l++)
            judge_need(&j, &asked->needs.needs[i], l / 2, l % 2);
    }
    out->n_strains = 0;
    out->strains = KS_TAKE(arena, STRAIN_KINDS, ks_penalty);
    for (int k = 0; k < STRAIN_KINDS; k++) {
        const worst *w = &j.kinds[k];
        if (w->kinds > 0)
            out->strains[out->n_strains++] = (ks_penalty){w->wall.need->piece,
                                                          kind_names[k],
                                                          w->at_c,
                                                          w->at_h,
                                                          w->went,
                                                          w->bears,
                                                          w->kinds - 1,
                                                          what_words(&j, (penalty_kind)k, arena)};
    }
}
