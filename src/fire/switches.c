#include "fire/switches.h"

#include "base/language.h"
#include "fire/pace.h"
#include "studio/display.h"

#include <math.h>

/* Two like coils of a switch: in series on low, one alone on medium, side by side on high; so a
 * quarter, half and all of the power. */
static const struct {
    double part;
    const char *words;
} positions[] = {{0, KS_WORDS("off")},
                 {0.25, KS_WORDS("low")},
                 {0.5, KS_WORDS("medium")},
                 {1, KS_WORDS("high")}};
enum { POSITIONS = 3 }; /* above off */

#define MARK_S 1800.0 /* people look each half hour */
#define STEP_S 120.0
#define DRIES_BY_C 130.0 /* holds up to here are for water: lid propped */
#define FULL_ON_C 3000.0
#define FULL_K_H 400.0 /* of a segment that asks for all the kiln can */
#define SPARE_K 5.0
#define OVER_K 20.0
#define OVER_PART 0.5   /* of what is allowed, where that is little */
#define SLUGGISH_K 12.0 /* in half an hour: a cone would wait too long */
#define STUCK_K 0.5
#define AS_ASKED_K 1000.0 /* stands for the rise while a hold is minded: it says nothing */
#define LONGEST_S (120 * S_PER_H)

/* Where the firing has got to on its schedule. */
typedef struct {
    ks_course *c;
    int setting, segment, last, room;
    double hold_left_h;
    bool there; /* it has come to its target */
    double minded_c;
    bool minded; /* this mark is spent at a hold, switched off and on */
} hand;

static const ks_segment *segment_of(const hand *h)
{
    return &h->c->job->schedule->segments[h->segment];
}

static bool many_switches(const hand *h)
{
    return h->c->job->parts.kiln->heat.n_zones > 1;
}

/* Switches are turned up one after the other, from the bottom: a setting is how many turns that
 * takes, less one. */
static int switches_of(const hand *h)
{
    int zones = h->c->job->parts.kiln->heat.n_zones;
    return zones > 1 ? zones : 1;
}

static int settings_of(const hand *h)
{
    return POSITIONS * switches_of(h);
}

/* All switches at the same position. */
static bool is_even(const hand *h, int setting)
{
    return (setting + 1) % switches_of(h) == 0;
}

static double part_of(const hand *h, int setting)
{
    int n = switches_of(h), others = setting / n, turned = setting % n + 1;
    return (turned * positions[others + 1].part + (n - turned) * positions[others].part) / n;
}

static const char *set_words(const hand *h, int setting)
{
    ks_arena *arena = h->c->arena;
    int n = switches_of(h), turned = setting % n + 1;
    const char *now = ks_tr(positions[setting / n + 1].words);
    const char *before = ks_tr(positions[setting / n].words);
    if (!many_switches(h))
        return now;
    if (turned == n)
        return ks_arena_print(arena, "all switches %s", now);
    return turned == 1
               ? ks_arena_print(arena, "bottom switch %s, others %s", now, before)
               : ks_arena_print(arena, "lowest %d switches %s, others %s", turned, now, before);
}

/* Colours in a dark room: a common scale, from memory. */
static const char *look_words(double at_c)
{
    static const struct {
        double up_to_c;
        const char *words;
    } looks[] = {{60, "begin"},
                 {150, "a cold mirror at the peephole stays clear: no more steam"},
                 {480, "no colour inside yet"},
                 {650, "dull red, seen in the dark"},
                 {800, "cherry red"},
                 {950, "bright red to orange"},
                 {1100, "orange to yellow"},
                 {2000, "yellow"}};
    int i = 0;
    while (at_c > looks[i].up_to_c && i < 7)
        i++;
    return looks[i].words;
}

/* What is turned anew at the same moment replaces what was turned before. */
static ks_turn *next_turn(hand *h)
{
    ks_firing_result *out = h->c->out;
    double now_h = h->c->time_s / S_PER_H;
    if (out->n_turns > 0 && now_h - out->turns[out->n_turns - 1].at_h < 1e-6)
        return &out->turns[out->n_turns - 1];
    out->turns = KS_GROW(h->c->arena, out->turns, out->n_turns, &h->room, ks_turn);
    return &out->turns[out->n_turns++];
}

static void add_turn(hand *h, double part, const char *set, const char *look)
{
    ks_course *c = h->c;
    *next_turn(h) = (ks_turn){
        c->time_s / S_PER_H,
        ks_course_reading_c(c),
        part,
        c->lid_propped,
        h->minded,
        h->minded ? segment_of(h)->target_c : NAN,
        h->minded ? ks_arena_print(c->arena, "%s, off and on near %s", set,
                                   ks_show_temp(c->job->display, segment_of(h)->target_c, c->arena))
                  : set,
        look};
}

static void turn_to(hand *h, int setting)
{
    h->setting = setting;
    h->c->switched = part_of(h, setting);
    add_turn(h, h->c->switched, set_words(h, setting), look_words(ks_course_reading_c(h->c)));
}

/* What the schedule lets a kiln come to in the next half hour. */
static double allowed_c(const hand *h)
{
    const ks_schedule *s = h->c->job->schedule;
    double at_c = ks_course_reading_c(h->c), left_h = MARK_S / S_PER_H, hold_h = h->hold_left_h;
    for (int i = h->segment; i <= h->last && left_h > 0; i++) {
        const ks_segment *segment = &s->segments[i];
        double rate = segment->rate_c_h > 0 ? segment->rate_c_h : FULL_K_H;
        double rise_h = fmax(segment->target_c - at_c, 0) / rate;
        at_c += rate * fmin(rise_h, left_h);
        left_h -= rise_h + (i == h->segment ? hold_h : segment->hold_h);
    }
    return at_c;
}

/* The reading in half an hour with so much power, then all is as it was. */
static double looked_ahead_c(hand *h, double part)
{
    ks_course *c = h->c;
    double most_w = ks_course_most_w(c) / fmax(c->switched, 1e-9) * part, power_w;
    ks_network_keep(&c->model.net, c->arena, &c->kept);
    ks_course_heating_air(c); /* the lid may just have been shut */
    for (double s = 0; s < MARK_S; s += STEP_S) {
        ks_drive drive = {STEP_S, FULL_ON_C, most_w};
        if (!ks_network_step(&c->model.net, &drive, 0, &power_w))
            break;
    }
    double reading_c = ks_course_reading_c(c);
    ks_network_restore(&c->model.net, &c->kept);
    return reading_c;
}

static void run_until(hand *h, double until_s, double set_c)
{
    ks_course *c = h->c;
    while (c->time_s < until_s - 1e-6 && !c->cone_down) {
        double dt_s = fmin(c->job->parts.options->step_s, until_s - c->time_s);
        ks_course_step(c, set_c, fmax(dt_s, 1e-3));
        if (c->job->end_cone < 0 && ks_course_reading_c(c) >= ks_schedule_top_c(c->job->schedule))
            c->cone_down = true; /* by pyrometer */
    }
}

/* A hold runs once the kiln has been there; what is behind it is over. */
static void move_on(hand *h)
{
    double at_c = ks_course_reading_c(h->c);
    h->there = h->there || at_c >= segment_of(h)->target_c - SPARE_K;
    if (h->there)
        h->hold_left_h -= MARK_S / S_PER_H;
    while (h->segment < h->last && h->there && h->hold_left_h <= 1e-9) {
        h->segment++;
        h->hold_left_h = segment_of(h)->hold_h;
        h->there = at_c >= segment_of(h)->target_c - SPARE_K;
    }
}

static bool dries(const hand *h)
{
    return segment_of(h)->target_c <= DRIES_BY_C;
}

static bool holds(const hand *h)
{
    return h->hold_left_h > 1e-9 && (h->there || dries(h));
}

/* The highest setting with which the ware still bears what comes, the present one at least; all
 * switches alike where that may be, for whoever turns them. */
static int borne_setting(hand *h, double allowed, bool even)
{
    int borne = h->setting;
    for (int s = h->setting + 1; s < settings_of(h); s++) {
        if (looked_ahead_c(h, part_of(h, s)) > allowed + SPARE_K)
            break;
        borne = !even || is_even(h, s) ? s : borne;
    }
    return borne;
}

static int raised_setting(hand *h, double allowed, bool sluggish)
{
    int even = borne_setting(h, allowed, true);
    if (even > h->setting || !sluggish)
        return even;
    int borne = borne_setting(h, allowed, false);
    return borne > h->setting ? borne : h->setting + 1;
}

/* Up where the ware bears it or the kiln lags; down where it runs away, unless it would fall. */
static void choose(hand *h, double rose_k)
{
    double now_c = ks_course_reading_c(h->c), allowed = allowed_c(h);
    double over_k = fmin(OVER_K, OVER_PART * fmax(allowed - now_c, 0));
    bool sluggish = rose_k < fmin(SLUGGISH_K, 0.5 * (allowed - now_c)) && (!holds(h) || !h->there);
    int raised =
        h->setting + 1 < settings_of(h) ? raised_setting(h, allowed, sluggish) : h->setting;
    if (raised > h->setting)
        turn_to(h, raised);
    else if (h->setting > 0 && !sluggish && !holds(h) &&
             looked_ahead_c(h, part_of(h, h->setting)) > allowed + over_k &&
             looked_ahead_c(h, part_of(h, h->setting - 1)) > now_c)
        turn_to(h, h->setting - 1);
}

/* A hold is kept by switching off and on, where it would run past it; the lid is shut once the
 * water is out. */
static void mind(hand *h)
{
    bool runs_past =
        holds(h) && looked_ahead_c(h, h->c->switched) > segment_of(h)->target_c + SPARE_K;
    bool propped = h->c->lid_propped && dries(h);
    bool elsewhere = runs_past && h->minded_c != segment_of(h)->target_c;
    if (runs_past == h->minded && propped == h->c->lid_propped && !elsewhere)
        return;
    h->minded_c = segment_of(h)->target_c;
    h->minded = runs_past;
    h->c->lid_propped = propped;
    turn_to(h, h->setting);
}

static void find_turns(hand *h)
{
    ks_course *c = h->c;
    c->lid_propped = dries(h);
    turn_to(h, 0);
    for (double rose_k = INFINITY; !c->cone_down && !c->gave_up;) {
        double before_c = ks_course_reading_c(c);
        mind(h);
        if (isfinite(rose_k))
            choose(h, rose_k);
        mind(h);
        run_until(h, c->time_s + MARK_S, h->minded ? segment_of(h)->target_c : FULL_ON_C);
        rose_k = h->minded ? AS_ASKED_K : ks_course_reading_c(c) - before_c;
        bool stuck = h->setting == settings_of(h) - 1 && !h->minded && rose_k < STUCK_K;
        c->gave_up = !c->cone_down && (stuck || c->time_s > LONGEST_S);
        move_on(h);
    }
}

static void repeat_turns(hand *h)
{
    ks_course *c = h->c;
    const ks_run_job *job = c->job;
    for (int i = 0; i + 1 < job->n_turns && !c->cone_down; i++) {
        const ks_turn *turn = &job->turns[i];
        bool last = i + 2 == job->n_turns;
        c->switched = turn->part;
        c->lid_propped = turn->lid_propped;
        double until_s = last ? LONGEST_S : job->turns[i + 1].at_h * S_PER_H;
        run_until(h, until_s, turn->minded ? turn->hold_c : FULL_ON_C);
    }
    c->gave_up = !c->cone_down;
}

#define WATCH_FROM_H 1.0 /* before it is expected: as much as a doubtful supply makes of it */

static void add_end(hand *h)
{
    ks_course *c = h->c;
    int cone = c->job->end_cone;
    h->minded = false;
    c->lid_propped = false;
    add_turn(h, 0, "all off",
             cone < 0 ? "the pyrometer reads the top"
                      : ks_arena_print(c->arena,
                                       "cone %s nearly down: look each 15 min from an hour before; "
                                       "%s%s goes first",
                                       ks_cone(cone)->name, cone > 0 ? "cone " : "the guide cone",
                                       cone > 0 ? ks_cone(cone - 1)->name : ""));
}

static int last_rise(const ks_schedule *schedule)
{
    int hottest = 0;
    for (int i = 1; i < schedule->n_segments; i++)
        if (schedule->segments[i].target_c >= schedule->segments[hottest].target_c)
            hottest = i;
    return hottest;
}

void ks_course_by_hand(ks_course *c)
{
    hand h = {.c = c,
              .last = last_rise(c->job->schedule),
              .hold_left_h = c->job->schedule->segments[0].hold_h};
    if (c->job->n_turns > 0)
        repeat_turns(&h);
    else
        find_turns(&h);
    if (!c->gave_up && c->job->n_turns == 0)
        add_end(&h);
    c->switched = 1;
    c->lid_propped = false;
}
