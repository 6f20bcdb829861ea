#include "fire/physics/bears.h"
#include "fire/merge.h"
#include "base/language.h"
#include "fire/pace.h"

#include "kilnstow/cone.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

/* Each segment goes as fast as the tightest limit allows: what walls bear (bears.h), what feet on
 * their shelves bear against the rims, and what kilns follow. */
#define KILN_FOLLOWS_K_H 200.0 /* common practice, no source */
#define SLOWEST_K_H 5.0

static const ks_schedule_style styles[] = {
    {"bisque", "first firing of dry ware"},
    {"glaze", "glaze firing of bisque ware"},
    {"raw", "raw ware fired once, to its glaze's cone"},
    {"crystals", "glaze firing with a hold on the way down in which crystals grow"},
    {"slow cool", "glaze firing with a slow fall, for matt and crystal surfaces and thick work"},
    {NULL, NULL},
};

const ks_schedule_style *ks_schedule_styles(void)
{
    return styles;
}

static bool raw(const ks_need *need)
{
    return need->stage == KS_LEATHER || need->stage == KS_DRY || need->slab_mm > 0;
}

typedef struct {
    const ks_needs *needs;
    ks_arena *arena;
    ks_worked_schedule *out;
    int room, reasons_room, holds_room;
} writer;

static void add(writer *w, double rate_c_h, double target_c, double hold_h, const char *reason)
{
    ks_schedule *s = &w->out->schedule;
    s->segments = KS_GROW(w->arena, s->segments, s->n_segments, &w->room, ks_segment);
    w->out->reasons =
        KS_GROW(w->arena, w->out->reasons, s->n_segments, &w->reasons_room, const char *);
    w->out->reasons[s->n_segments] = reason;
    w->out->holds = KS_GROW(w->arena, w->out->holds, s->n_segments, &w->holds_room, const char *);
    w->out->holds[s->n_segments] = "";
    s->segments[s->n_segments++] = (ks_segment){rate_c_h, target_c, hold_h};
}

static void tell_hold(writer *w, const char *why)
{
    w->out->holds[w->out->schedule.n_segments - 1] = why;
}

/* Once no segment is merged any more: why it goes so fast, and why it holds. */
static void join_holds(ks_worked_schedule *out, ks_arena *arena)
{
    for (int i = 0; i < out->schedule.n_segments; i++)
        if (*out->holds[i])
            out->reasons[i] = ks_arena_print(arena, "%s; %s", out->reasons[i], out->holds[i]);
}

static double at_c(const writer *w)
{
    const ks_schedule *s = &w->out->schedule;
    return s->n_segments > 0 ? s->segments[s->n_segments - 1].target_c : 20;
}

static const char *name(const writer *w, const ks_wall *of)
{
    return ks_wall_words(of, w->needs->display, w->arena);
}

/* The tightest limit so far. */
typedef struct {
    double rate_k_h;
    const char *why;
} limit;

static double rounded_rate(double rate_k_h)
{
    double step = rate_k_h < 30 ? 1 : 5;
    return fmax(floor(rate_k_h / step) * step, SLOWEST_K_H);
}

static double least_rate(const ks_body_state *body, double half_m, double from_c, double to_c,
                         bool cooling)
{
    double least = INFINITY;
    for (double t = from_c + 1; t < to_c; t += 5)
        least = fmin(least, ks_bears_rate_k_h(body, half_m, t, cooling));
    return least;
}

static bool has_quartz(double from_c, double to_c)
{
    return from_c < 573 && to_c > 550;
}

#define CATCHES_UP 0.65 /* ware rises faster than asked when its own water has gone */

static void limit_by_stress(const writer *w, const ks_wall *of, const ks_body_state *body,
                            double from_c, double to_c, bool cooling, limit *so_far)
{
    double rate = least_rate(body, of->half_m, from_c, to_c, cooling);
    if (!cooling && of->is_raw && from_c >= 600)
        rate *= CATCHES_UP;
    if (rate >= so_far->rate_k_h)
        return;
    *so_far = (limit){rate, has_quartz(from_c, to_c)
                                ? ks_arena_print(w->arena,
                                                 "quartz in %s %s at %s: face and middle must "
                                                 "pass it close together",
                                                 name(w, of), cooling ? "shrinks" : "grows",
                                                 ks_show_temp(w->needs->display, 573, w->arena))
                                : ks_arena_print(w->arena,
                                                 "the middle of %s lags its face, which strains it",
                                                 name(w, of))};
}

/* Rim against foot: small feet give way to quartz, wide ones do not. */
static void limit_by_foot(const writer *w, const ks_need *need, const ks_body_state *body,
                          double from_c, double to_c, limit *so_far)
{
    double shelf_mm = w->needs->shelf_mm > 0 ? w->needs->shelf_mm : 16,
           middle_c = 0.5 * (from_c + to_c);
    ks_body_state foot = *body;
    if (!need->wide)
        foot.quartz = foot.cristobalite = 0;
    double across_k = INFINITY;
    for (double t = from_c + 1; t < to_c; t += 5)
        across_k = fmin(across_k, ks_bears_across_k(&foot, t));
    double rate = across_k / ks_shelf_lag_h(shelf_mm * 1e-3, middle_c);
    if (rate < so_far->rate_k_h)
        *so_far =
            (limit){rate, ks_arena_print(w->arena, "feet on shelves of %s lag behind rims%s%s",
                                         ks_show_length(w->needs->display, shelf_mm, w->arena),
                                         need->wide ? ", most under " : "",
                                         need->wide ? ks_arena_text_n(w->arena, need->name,
                                                                      strcspn(need->name, ","))
                                                    : "")};
}

#define LEFT_BY_HOLD 0.1 /* of it, when the hold below boiling is over */

static void limit_by_steam(const writer *w, const ks_wall *of, limit *so_far)
{
    double rate = ks_bears_steam_k_h(of->half_m, LEFT_BY_HOLD * DRY_WATER + BOUND_WATER);
    if (of->is_raw && rate < so_far->rate_k_h)
        *so_far = (limit){
            rate, ks_arena_print(w->arena, "the last water leaves %s as steam", name(w, of))};
}

static limit rise_limit(const writer *w, double from_c, double to_c)
{
    limit so_far = {KILN_FOLLOWS_K_H, "as fast as kilns follow evenly; walls and feet bear more"};
    for (int i = 0; i < w->needs->n; i++) {
        ks_wall walls[WALLS];
        int n = ks_walls_of(&w->needs->needs[i], walls);
        for (int k = 0; k < n; k++) {
            limit_by_stress(w, &walls[k], walls[k].body, from_c, to_c, false, &so_far);
            if (from_c < 260 && to_c > 100)
                limit_by_steam(w, &walls[k], &so_far);
        }
        limit_by_foot(w, &w->needs->needs[i], walls[n - 1].body, from_c, to_c, &so_far);
    }
    so_far.rate_k_h = rounded_rate(so_far.rate_k_h);
    return so_far;
}

/* Thickness by which common practice goes. */
static double practice_mm(const ks_needs *needs, bool of_raw)
{
    double mm = 0;
    for (int i = 0; i < needs->n; i++) {
        ks_wall walls[WALLS];
        int n = ks_walls_of(&needs->needs[i], walls);
        for (int k = 0; k < n; k++)
            if (walls[k].is_raw == of_raw)
                mm = fmax(mm, walls[k].mm);
    }
    return mm;
}

/* Rates by thickness up to 8, 15 and 30 mm: course notes, a sculptor's and clay sellers' pages
 * agree about so far; common practice. */
static const char *usual_words(const writer *w, bool of_raw, double to_c)
{
    static const struct {
        double to_c, raw_k_h[3], glaze_k_h;
    } rows[] = {{95, {100, 60, 30}, 150},
                {260, {100, 60, 35}, 150},
                {600, {120, 80, 40}, 150},
                {2000, {150, 100, 60}, 180}};
    int row = 0;
    double mm = practice_mm(w->needs, of_raw);
    while (to_c > rows[row].to_c)
        row++;
    double rate = of_raw ? rows[row].raw_k_h[mm <= 8 ? 0 : mm <= 15 ? 1 : 2] : rows[row].glaze_k_h;
    return ks_arena_print(w->arena, "usual practice %s",
                          ks_show_rate(w->needs->display, rate, w->arena));
}

static void add_rise(writer *w, bool of_raw, double to_c, double hold_h, const char *hold_why)
{
    limit rise = rise_limit(w, at_c(w), to_c);
    ks_schedule *s = &w->out->schedule;
    ks_segment *last = s->n_segments > 0 ? &s->segments[s->n_segments - 1] : NULL;
    const char *words = ks_arena_print(w->arena, "%s (%s)", rise.why, usual_words(w, of_raw, to_c));
    if (last && last->hold_h == 0 && last->rate_c_h == rise.rate_k_h && last->rate_c_h > 0) {
        last->target_c = to_c;
        last->hold_h = hold_h;
        w->out->reasons[s->n_segments - 1] = words;
    } else {
        add(w, rise.rate_k_h, to_c, hold_h, words);
    }
    tell_hold(w, hold_why);
}

static double up_to_quarter(double hours)
{
    return ceil(hours * 4 - 1e-9) / 4;
}

/* Hours at 90 C until a wall has a tenth of its last water, and a wet one all it loses after it has
 * shrunk. */
static double drying_h(const ks_wall *of)
{
    double square = of->half_m * of->half_m / 3600;
    double hours = ks_slab_fourier(LEFT_BY_HOLD) * square / ks_hygroscopic_diffusivity(90);
    if (of->is_wet)
        hours += ks_slab_fourier(DRY_WATER / 0.12) * square / ks_liquid_diffusivity(90);
    return hours;
}

/* Saturated air of 90 C carries 1.4 kg a kilogram of dry air. */
static double carrying_h(const ks_needs *needs)
{
    return needs->air_m3_h > 0 ? needs->water_kg / (1.4 * 1.204 * needs->air_m3_h) : 0;
}

typedef struct {
    double hours;
    ks_wall of; /* need NULL = none */
} longest;

static longest longest_of(const ks_needs *needs, double (*hours)(const ks_wall *), bool only_wet)
{
    longest found = {0, {0}};
    for (int i = 0; i < needs->n; i++) {
        ks_wall walls[WALLS];
        int n = ks_walls_of(&needs->needs[i], walls);
        for (int k = 0; k < n; k++)
            if (walls[k].is_raw && (!only_wet || walls[k].is_wet) && hours(&walls[k]) > found.hours)
                found = (longest){hours(&walls[k]), walls[k]};
    }
    return found;
}

static double shrinking_h(const ks_wall *of)
{
    return ks_shrinking_h(of->half_m);
}

#define BURN_OUT_SURE 2.0 /* times the time worked out: its doubt is a factor of 2 */

static double burning_h(const ks_wall *of)
{
    return BURN_OUT_SURE * ks_burn_out_h(of->half_m, ORGANIC_CARBON, 0.21, 800);
}

static void add_drying(writer *w)
{
    longest wet = longest_of(w->needs, shrinking_h, true),
            dry = longest_of(w->needs, drying_h, false);
    if (wet.of.need)
        add(w, 20, 40, up_to_quarter(wet.hours),
            ks_arena_print(
                w->arena,
                "%s is still wet: it shrinks while it dries, and tears if its face dries much "
                "faster than its middle; lid propped, vent off, air damp",
                name(w, &wet.of)));
    double carried_h = carrying_h(w->needs), hold_h = fmax(fmax(dry.hours, carried_h), 0.5);
    add_rise(w, true, 90, up_to_quarter(hold_h),
             carried_h > dry.hours
                 ? ks_arena_print(w->arena,
                                  "hold until the air has carried off %s of water: vent on "
                                  "or lid propped",
                                  ks_show_mass(w->needs->display, w->needs->water_kg, w->arena))
                 : ks_arena_print(w->arena, "hold until %s is dry inside: vent on or lid propped",
                                  dry.of.need ? name(w, &dry.of) : "the ware"));
}

/* Ware lags the thermocouple by 10 to 40 K, most while its own water leaves: a limit of the ware's
 * begins early and ends late. */
static void add_raw_start(writer *w, double top_c)
{
    longest burning = longest_of(w->needs, burning_h, false);
    add_drying(w);
    add_rise(w, true, 260, 0, "");
    if (top_c - 100 <= 610)
        return;
    add_rise(w, true, 500, 0, "");
    add_rise(w, true, 525, 0, "");
    add_rise(w, true, 610, 0, "");
    double to_c = fmin(850, top_c - 100);
    double rate = rise_limit(w, 610, to_c).rate_k_h, hold_h = burning.hours - (to_c - 600) / rate;
    add_rise(w, true, to_c, hold_h > 0 ? up_to_quarter(hold_h) : 0,
             hold_h > 0 ? ks_arena_print(w->arena,
                                         "hold until carbon has burnt out of %s, before it closes",
                                         name(w, &burning.of))
                        : "carbon burns out on the way");
}

static void add_bisque_start(writer *w, double top_c)
{
    add_rise(w, false, 120, 0.25, "hold: the glaze coat's water leaves without lifting it");
    const double to_c[] = {300, 500, 525, 590};
    for (int i = 0; i < 4 && to_c[i] < top_c - 100; i++)
        add_rise(w, false, to_c[i], 0, "");
}

#define LAG_ALLOWED_K 45.0 /* the set point may pass the cone's own temperature by this */

static ks_status find_top(const writer *w, double *top_c, ks_error *err)
{
    const ks_firing *firing = w->needs->firing;
    bool by_cone = firing->cone && *firing->cone;
    *top_c = by_cone ? ks_cone_temp_c(firing->cone, 60) : firing->top_temp_c;
    if (by_cone && isnan(*top_c))
        return ks_fail(err, KS_BAD_INPUT, "firing %s: cone: must be one of 022 to 14, not \"%s\"",
                       firing->id ? firing->id : "", firing->cone);
    if (!by_cone && !(*top_c >= 100 && *top_c <= 1700))
        return ks_fail(err, KS_BAD_INPUT,
                       "firing %s: top: must be 100 to 1700 C, or a cone, not %g C",
                       firing->id ? firing->id : "", *top_c);
    return KS_OK;
}

static void add_top(writer *w, bool of_raw, double top_c)
{
    const ks_firing *firing = w->needs->firing;
    bool by_cone = firing->cone && *firing->cone;
    if (top_c - 100 > at_c(w))
        add_rise(w, of_raw, top_c - 100, 0, "");
    const char *last = ks_arena_print(w->arena, "the last %s so slow that shelves even out",
                                      ks_show_warmer(w->needs->display, 100, w->arena));
    add(w, 60, by_cone ? top_c + LAG_ALLOWED_K : top_c, by_cone ? 0 : 0.25, last);
    tell_hold(w, ks_tr(by_cone ? "it ends when the cone is down" : "then a hold"));
    w->out->schedule.end_cone = by_cone ? firing->cone : "";
}

static void add_slow_cool(writer *w)
{
    add(w, 0, 1040, 0, "falls freely through the range where a melt is still fluid");
    add(w, -80, 760, 0, "crystals grow while the glaze is soft: matt and crystal surfaces");
}

#define GROWTH_H 3.0

/* Common practice, no source: 1000 to 1100 C, hours. */
static void add_growth(writer *w, double top_c)
{
    double at = fmin(fmax(top_c - 150, 1000), 1100);
    if (at < top_c - 20)
        add(w, 0, at, GROWTH_H, "crystals grow in the melt (common practice, no source)");
}

static limit fall_limit(const writer *w, double from_c, double to_c, bool hot)
{
    const ks_body_state *body = hot ? &ks_vitrified : &ks_bisque;
    limit so_far = {INFINITY, ""};
    for (int i = 0; i < w->needs->n; i++) {
        ks_wall walls[WALLS];
        int n = ks_walls_of(&w->needs->needs[i], walls);
        for (int k = 0; k < n; k++)
            limit_by_stress(w, &walls[k], body, to_c, from_c, true, &so_far);
        if (w->needs->needs[i].wide)
            limit_by_foot(w, &w->needs->needs[i], body, to_c, from_c, &so_far);
    }
    return so_far;
}

/* Cooling under control only where the ware bears less than a kiln falls by itself: about this
 * fast, by the simulation of small kilns. */
static void add_fall(writer *w, double top_c)
{
    static const struct {
        double from_c, to_c, kiln_k_h;
    } steps[] = {{1000, 600, 300}, {600, 540, 150}, {540, 280, 110}, {280, 180, 60}};
    bool hot = top_c >= 1100;
    for (int i = 0; i < 4; i++) {
        double from_c = fmin(steps[i].from_c, top_c), to_c = steps[i].to_c;
        limit fall = fall_limit(w, from_c, to_c, hot);
        if (from_c <= to_c || fall.rate_k_h >= steps[i].kiln_k_h)
            continue;
        if (at_c(w) > from_c + 1)
            add(w, 0, from_c, 0, "falls freely: the ware bears more than the kiln does by itself");
        add(w, -rounded_rate(fall.rate_k_h), to_c, 0,
            ks_arena_print(w->arena, "%s (usual practice %s)", fall.why,
                           ks_show_rate(w->needs->display, 60, w->arena)));
    }
}

double ks_schedule_hours(const ks_schedule *schedule)
{
    double at_c = 20, hours = 0;
    for (int i = 0; i < schedule->n_segments; i++) {
        const ks_segment *s = &schedule->segments[i];
        double rate = s->rate_c_h == 0 ? 200 : fabs(s->rate_c_h);
        hours += fabs(s->target_c - at_c) / rate + s->hold_h;
        at_c = s->target_c;
    }
    return hours;
}

static const char *style_for(const ks_needs *needs)
{
    bool any_raw = false, hot = false;
    for (int i = 0; i < needs->n; i++)
        any_raw = any_raw || raw(&needs->needs[i]);
    const ks_firing *firing = needs->firing;
    if (firing->cone && *firing->cone)
        hot = ks_cone_find(firing->cone) >= ks_cone_find("1");
    else
        hot = firing->top_temp_c > 1130;
    return !any_raw ? "glaze" : hot ? "raw" : "bisque";
}

static bool known_style(const char *style)
{
    for (const ks_schedule_style *s = styles; s->name; s++)
        if (strcmp(s->name, style) == 0)
            return true;
    return false;
}

static const char *purpose_of(const char *style)
{
    for (const ks_schedule_style *s = styles; s->name; s++)
        if (strcmp(s->name, style) == 0)
            return s->purpose;
    return "";
}

static ks_status write_all(const ks_needs *needs, const char *style, ks_arena *arena,
                           ks_worked_schedule *out, ks_error *err)
{
    writer w = {needs, arena, out, 0, 0, 0};
    double top_c;
    *out = (ks_worked_schedule){.style = style, .slowest = -1, .why_slowest = ""};
    out->schedule = (ks_schedule){.id = style, .purpose = purpose_of(style), .end_cone = ""};
    ks_status status = find_top(&w, &top_c, err);
    if (status)
        return status;
    bool of_raw =
        practice_mm(needs, true) > 0 || strcmp(style, "bisque") == 0 || strcmp(style, "raw") == 0;
    if (of_raw)
        add_raw_start(&w, top_c);
    else
        add_bisque_start(&w, top_c);
    add_top(&w, of_raw, top_c);
    if (strcmp(style, "slow cool") == 0 && top_c > 1060)
        add_slow_cool(&w);
    if (strcmp(style, "crystals") == 0)
        add_growth(&w, top_c);
    add_fall(&w, top_c);
    return KS_OK;
}

#define WORTH_NAMING_H 0.25

/* Each piece's longest need, by the time its walls take to dry, burn out and even out: all go with
 * the square, so the thickest half that counts is the slowest. */
static int slowest_need(const ks_needs *needs, bool of_raw, bool of_wet, ks_wall *of)
{
    int place = -1;
    double half_m = 0;
    for (int i = 0; i < needs->n; i++) {
        ks_wall walls[WALLS];
        int n = ks_walls_of(&needs->needs[i], walls);
        for (int k = 0; k < n; k++)
            if (walls[k].half_m > half_m && (walls[k].is_raw || !of_raw) &&
                (walls[k].is_wet || !of_wet)) {
                half_m = walls[k].half_m;
                place = i;
                *of = walls[k];
            }
    }
    return place;
}

/* The piece without which the schedule would be shortest. */
static void find_slowest(const ks_needs *needs, ks_arena *arena, ks_worked_schedule *out)
{
    double hours = ks_schedule_hours(&out->schedule), most = WORTH_NAMING_H;
    writer w = {needs, arena, out, 0, 0, 0};
    for (int i = 0; i < 3 && needs->n >= 2; i++) {
        ks_wall of;
        int place = slowest_need(needs, i > 0, i > 1, &of);
        if (place < 0)
            continue;
        ks_needs rest = ks_needs_without(needs, needs->needs[place].piece, arena);
        ks_worked_schedule other;
        bool by_load = strcmp(out->style, style_for(needs)) == 0;
        if (write_all(&rest, by_load ? style_for(&rest) : out->style, arena, &other, NULL))
            continue;
        double saved = hours - ks_schedule_hours(&other.schedule);
        if (saved > most) {
            most = saved;
            out->slowest = needs->needs[place].piece;
            out->why_slowest = ks_arena_print(arena, "%s%s", name(&w, &of),
                                              of.is_wet ? ", which still has to dry" : "");
        }
    }
}

ks_status ks_schedule_for(const ks_needs *needs, const char *style, ks_arena *arena,
                          ks_worked_schedule *out, ks_error *err)
{
    if (!style || !*style)
        style = style_for(needs);
    if (!known_style(style))
        return ks_fail(
            err, KS_BAD_INPUT,
            "schedule: must be one of bisque, glaze, raw, crystals, slow cool, not \"%s\"", style);
    ks_status status = write_all(needs, style, arena, out, err);
    if (!status)
        find_slowest(needs, arena, out);
    if (!status)
        ks_schedule_merge(out, needs->segments_most, arena);
    if (!status)
        join_holds(out, arena);
    return status;
}

ks_status ks_schedule_work_out(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                               ks_worked_schedule *out, ks_error *err)
{
    ks_needs needs;
    ks_needs_of_load(plan, options->load, arena, &needs);
    return ks_schedule_for(&needs, options->style, arena, out, err);
}
