#include "fire/pace.h"

#include "kilnstow/cone.h"

#include <math.h>
#include <string.h>

/* Rates that a wall of 8 mm bears are common practice, no source; thicker walls are fired slower by
 * the square of thickness, as heat and vapour travel by diffusion. Thinner walls gain nothing. */
#define REFERENCE_WALL_MM 8.0
#define SLOWEST_C_H 12.0
#define LONGEST_DRYING_H 24.0

/* A slab between its grog beds loses heat and vapour mostly to one side. */
#define ONE_SIDED 1.4

static const ks_schedule_style styles[] = {
    {"bisque", "first firing of dry ware"},
    {"glaze", "glaze firing of bisque ware"},
    {"raw", "raw ware fired once, to its glaze's cone"},
    {"slow cool", "glaze firing with a slow fall, for matt and crystal surfaces and thick work"},
    {NULL, NULL},
};

const ks_schedule_style *ks_schedule_styles(void)
{
    return styles;
}

static bool raw_wall(const ks_need *need)
{
    return need->stage == KS_LEATHER || need->stage == KS_DRY;
}

static bool raw(const ks_need *need)
{
    return raw_wall(need) || need->slab_mm > 0;
}

static bool wet(const ks_need *need)
{
    return need->stage == KS_LEATHER || need->wet_slab;
}

/* Thickness that counts while it is raw: the wall's if that is raw, or the slab's. */
static double raw_mm(const ks_need *need)
{
    return fmax(raw_wall(need) ? need->wall_mm : 0, ONE_SIDED * need->slab_mm);
}

static double any_mm(const ks_need *need)
{
    return fmax(need->wall_mm, ONE_SIDED * need->slab_mm);
}

/* The piece that is thickest in one respect. */
typedef struct {
    double mm;
    int place; /* into needs, -1 = none */
} thickest;

static thickest thickest_by(const ks_needs *needs, double (*thickness)(const ks_need *))
{
    thickest found = {0, -1};
    for (int i = 0; i < needs->n; i++)
        if (thickness(&needs->needs[i]) > found.mm)
            found = (thickest){thickness(&needs->needs[i]), i};
    return found;
}

static double wet_mm(const ks_need *need)
{
    return wet(need) ? raw_mm(need) : 0;
}

static double slower(double rate_c_h, double mm)
{
    double ratio = REFERENCE_WALL_MM / fmax(mm, REFERENCE_WALL_MM);
    return fmax(SLOWEST_C_H, round(rate_c_h * ratio * ratio / 2) * 2);
}

typedef struct {
    const ks_needs *needs;
    ks_arena *arena;
    ks_worked_schedule *out;
    int room, reasons_room;
} writer;

static void add(writer *w, double rate_c_h, double target_c, double hold_h, const char *reason)
{
    ks_schedule *s = &w->out->schedule;
    s->segments = KS_GROW(w->arena, s->segments, s->n_segments, &w->room, ks_segment);
    w->out->reasons =
        KS_GROW(w->arena, w->out->reasons, s->n_segments, &w->reasons_room, const char *);
    w->out->reasons[s->n_segments] = reason;
    s->segments[s->n_segments++] = (ks_segment){rate_c_h, target_c, hold_h};
}

/* "12 mm of jar", or "12 mm of raw slab under form". */
static const char *named(writer *w, thickest of)
{
    if (of.place < 0)
        return "no piece in particular";
    const ks_need *need = &w->needs->needs[of.place];
    bool slab = need->slab_mm > 0 && of.mm > need->wall_mm;
    return slab ? ks_arena_print(w->arena, "the raw slab of %.0f mm under %s", need->slab_mm,
                                 need->name)
                : ks_arena_print(w->arena, "the %.0f mm wall of %s", need->wall_mm, need->name);
}

static double drying_h(const ks_needs *needs, thickest dry, thickest wettest)
{
    double dry_ratio = dry.mm / REFERENCE_WALL_MM, wet_ratio = wettest.mm / REFERENCE_WALL_MM;
    double hours = 0.5 + dry_ratio * dry_ratio;
    if (wettest.place >= 0)
        hours = fmax(hours, 4 + 6 * wet_ratio * wet_ratio);
    return fmin(LONGEST_DRYING_H, round(hours * 4) / 4);
}

static void add_raw_start(writer *w)
{
    thickest by = thickest_by(w->needs, raw_mm), wettest = thickest_by(w->needs, wet_mm);
    const char *who = named(w, by);
    add(w, slower(60, by.mm), 90, drying_h(w->needs, by, wettest),
        ks_arena_print(w->arena, "drying: water leaves %s below boiling; steam would burst it",
                       who));
    add(w, slower(60, by.mm), 220, 0,
        ks_arena_print(w->arena, "the last bound water leaves %s as steam", who));
    add(w, slower(120, by.mm), 450, 0,
        ks_arena_print(w->arena, "organic matter begins to burn in %s, which needs air and time",
                       who));
    add(w, slower(100, by.mm), 650, 0,
        ks_arena_print(w->arena,
                       "450 to 650 C: the clay's own water leaves, and at 573 C quartz "
                       "grows by 0.45 %%, all through %s",
                       who));
    add(w, slower(120, by.mm), 850, by.mm > 12 ? 0.5 : 0,
        ks_arena_print(w->arena,
                       "carbon and carbonates burn out of %s before the glaze or body "
                       "closes",
                       who));
}

static void add_bisque_start(writer *w)
{
    thickest by = thickest_by(w->needs, any_mm);
    const char *who = named(w, by);
    add(w, slower(120, by.mm), 120, 0.25, "the glaze coat's water leaves without lifting it");
    add(w, slower(200, by.mm), 500, 0,
        ks_arena_print(w->arena, "as fast as %s bears between its face and its middle", who));
    add(w, slower(150, by.mm), 650, 0,
        ks_arena_print(w->arena,
                       "quartz in %s grows by 0.45 %% at 573 C: face and middle should "
                       "pass it close together",
                       who));
}

#define LAG_ALLOWED_K 45.0 /* the set point may pass the cone's own temperature by this */

static ks_status add_top(writer *w, bool glaze, double cap_c_h, ks_error *err)
{
    const ks_firing *firing = w->needs->firing;
    bool by_cone = firing->cone && *firing->cone;
    double top_c = by_cone ? ks_cone_temp_c(firing->cone, 60) : firing->top_temp_c;
    if (by_cone && isnan(top_c))
        return ks_fail(err, KS_BAD_INPUT,
                       "firing %s: cone: found \"%s\"; one of 022 to 14 would do",
                       firing->id ? firing->id : "", firing->cone);
    if (!by_cone && !(top_c >= 100 && top_c <= 1700))
        return ks_fail(err, KS_BAD_INPUT,
                       "firing %s: top: found %g C; 100 to 1700 C, or a cone, would do",
                       firing->id ? firing->id : "", top_c);
    double from_c = w->out->schedule.segments[w->out->schedule.n_segments - 1].target_c;
    if (top_c - 100 > from_c)
        add(w, cap_c_h, top_c - 100, 0,
            glaze ? "nothing happens here but heating; limited by what ware and kiln follow"
                  : "up to the last hundred degrees");
    const char *last = by_cone ? "the last 100 C at 60 C/h, the rate of the cone chart's middle "
                                 "column, so that shelves even out; it ends when the cone is down"
                               : "the last 100 C at 60 C/h so that shelves even out, then a hold";
    add(w, 60, by_cone ? top_c + LAG_ALLOWED_K : top_c, by_cone ? 0 : 0.25, last);
    w->out->schedule.end_cone = by_cone ? firing->cone : "";
    return KS_OK;
}

static void add_slow_cool(writer *w)
{
    add(w, 0, 1040, 0, "falls freely through the range where a melt is still fluid");
    add(w, -80, 760, 0, "crystals grow while the glaze is soft: matt and crystal surfaces");
    add(w, -60, 500, 0,
        ks_arena_print(w->arena, "quartz shrinks back at 573 C all through %s",
                       named(w, thickest_by(w->needs, any_mm))));
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
    writer w = {needs, arena, out, 0, 0};
    *out = (ks_worked_schedule){.style = style, .slowest = -1, .why_slowest = ""};
    out->schedule = (ks_schedule){.id = style, .purpose = purpose_of(style), .end_cone = ""};
    bool any_raw = thickest_by(needs, raw_mm).place >= 0;
    if (any_raw || strcmp(style, "bisque") == 0 || strcmp(style, "raw") == 0)
        add_raw_start(&w);
    else
        add_bisque_start(&w);
    thickest by = thickest_by(needs, any_mm);
    ks_status status = add_top(&w, strcmp(style, "bisque") != 0, slower(180, by.mm), err);
    if (!status && strcmp(style, "slow cool") == 0)
        add_slow_cool(&w);
    return status;
}

#define WORTH_NAMING_H 0.25

/* The piece without which the schedule would be shortest. */
static void find_slowest(const ks_needs *needs, ks_arena *arena, ks_worked_schedule *out)
{
    double hours = ks_schedule_hours(&out->schedule), most = WORTH_NAMING_H;
    const thickest candidates[] = {thickest_by(needs, raw_mm), thickest_by(needs, wet_mm),
                                   thickest_by(needs, any_mm)};
    writer w = {needs, arena, out, 0, 0};
    for (int i = 0; i < 3; i++) {
        int place = candidates[i].place;
        if (place < 0 || needs->n < 2)
            continue;
        ks_needs rest = ks_needs_without(needs, needs->needs[place].piece, arena);
        ks_worked_schedule other;
        const char *style = strcmp(out->style, "slow cool") == 0 ? out->style : style_for(&rest);
        if (write_all(&rest, style, arena, &other, NULL))
            continue;
        double saved = hours - ks_schedule_hours(&other.schedule);
        if (saved > most) {
            most = saved;
            out->slowest = needs->needs[place].piece;
            out->why_slowest =
                ks_arena_print(arena, "%s sets the pace%s", named(&w, candidates[i]),
                               wet(&needs->needs[place]) ? ": it still has to dry" : "");
        }
    }
}

ks_status ks_schedule_for(const ks_needs *needs, const char *style, ks_arena *arena,
                          ks_worked_schedule *out, ks_error *err)
{
    if (!style || !*style)
        style = style_for(needs);
    if (!known_style(style))
        return ks_fail(err, KS_BAD_INPUT,
                       "schedule: found \"%s\"; bisque, glaze, raw or slow cool would do", style);
    ks_status status = write_all(needs, style, arena, out, err);
    if (!status)
        find_slowest(needs, arena, out);
    return status;
}

ks_status ks_schedule_work_out(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                               ks_worked_schedule *out, ks_error *err)
{
    ks_needs needs;
    ks_needs_of_load(plan, options->load, arena, &needs);
    return ks_schedule_for(&needs, options->style, arena, out, err);
}
