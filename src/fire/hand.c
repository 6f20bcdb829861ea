#include "fire/hand.h"

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

#define STEP_S 120.0
#define FULL_ON_C 3000.0

const ks_segment *ks_hand_segment(const ks_hand *h)
{
    return &h->c->job->schedule->segments[h->segment];
}

static int switches_of(const ks_hand *h)
{
    int zones = h->c->job->parts.kiln->heat.n_zones;
    return zones > 1 ? zones : 1;
}

int ks_hand_settings(const ks_hand *h)
{
    return POSITIONS * switches_of(h);
}

bool ks_hand_is_even(const ks_hand *h, int setting)
{
    return (setting + 1) % switches_of(h) == 0;
}

double ks_hand_part(const ks_hand *h, int setting)
{
    int n = switches_of(h);
    if (setting == ALL_OFF)
        return 0;
    int others = setting / n, turned = setting % n + 1;
    return (turned * positions[others + 1].part + (n - turned) * positions[others].part) / n;
}

static const char *set_words(const ks_hand *h, int setting)
{
    ks_arena *arena = h->c->arena;
    int n = switches_of(h), turned = setting % n + 1;
    if (setting == ALL_OFF)
        return ks_tr("all off");
    const char *now = ks_tr(positions[setting / n + 1].words);
    const char *before = ks_tr(positions[setting / n].words);
    if (n == 1)
        return now;
    if (turned == n)
        return ks_arena_print(arena, "all switches %s", now);
    return turned == 1
               ? ks_arena_print(arena, "bottom switch %s, others %s", now, before)
               : ks_arena_print(arena, "lowest %d switches %s, others %s", turned, now, before);
}

/* "off and on near 90 °C", "off and on, up 8 °C in half an hour at most". */
static const char *mind_words(const ks_hand *h)
{
    ks_arena *arena = h->c->arena;
    const ks_display *display = h->c->job->display;
    if (!h->minded)
        return "";
    if (h->mind_k_h == 0)
        return ks_arena_print(arena, "off and on near %s", ks_show_temp(display, h->mind_c, arena));
    return ks_arena_print(arena,
                          h->mind_k_h > 0 ? "off and on, up %s in half an hour at most"
                                          : "off and on, down %s in half an hour at most",
                          ks_show_warmer(display, fabs(h->mind_k_h) * MARK_S / S_PER_H, arena));
}

/* Colours in a dark room: a common scale, from memory. */
static const char *look_words(double at_c, bool cools)
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
    return cools && i < 3 ? "no colour inside any more" : looks[i].words;
}

/* What is turned anew at the same moment replaces what was turned before. */
static ks_turn *next_turn(ks_hand *h)
{
    ks_firing_result *out = h->c->out;
    double now_h = h->c->time_s / S_PER_H;
    if (out->n_turns > 0 && now_h - out->turns[out->n_turns - 1].at_h < 1e-6)
        return &out->turns[out->n_turns - 1];
    out->turns = KS_GROW(h->c->arena, out->turns, out->n_turns, &h->room, ks_turn);
    return &out->turns[out->n_turns++];
}

static void add_turn(ks_hand *h, const char *look)
{
    ks_course *c = h->c;
    *next_turn(h) = (ks_turn){.at_h = c->time_s / S_PER_H,
                              .at_c = ks_course_reading_c(c),
                              .part = c->switched,
                              .lid_propped = c->lid_propped,
                              .minded = h->minded,
                              .hold_c = h->minded ? h->mind_c : NAN,
                              .toward_k_h = h->minded ? h->mind_k_h : 0,
                              .set = set_words(h, h->setting),
                              .mind = mind_words(h),
                              .look = look};
}

void ks_hand_turn(ks_hand *h, int setting)
{
    h->setting = setting;
    h->c->switched = ks_hand_part(h, setting);
    add_turn(h, look_words(ks_course_reading_c(h->c), h->c->cone_down));
}

void ks_hand_turn_off(ks_hand *h, const char *look)
{
    h->setting = ALL_OFF;
    h->c->switched = 0;
    h->c->lid_propped = h->minded = false;
    add_turn(h, look);
}

double ks_hand_turned_s(const ks_hand *h)
{
    return h->c->out->turns[h->c->out->n_turns - 1].at_h * S_PER_H;
}

/* The heaters' set point while nothing is minded: NAN = off. */
static double unminded_c(double part)
{
    return part > 0 ? FULL_ON_C : NAN;
}

double ks_hand_ahead_c(ks_hand *h, int setting)
{
    ks_course *c = h->c;
    double was = c->switched, part = ks_hand_part(h, setting), power_w;
    c->switched = part;
    double most_w = ks_course_most_w(c);
    c->switched = was;
    ks_network_keep(&c->model.net, c->arena, &c->kept);
    ks_course_air(c, part > 0); /* the lid may just have been shut */
    for (double s = 0; s < MARK_S; s += STEP_S) {
        ks_drive drive = {STEP_S, unminded_c(part), most_w};
        if (!ks_network_step(&c->model.net, &drive, 0, &power_w))
            break;
    }
    double reading_c = ks_course_reading_c(c);
    ks_network_restore(&c->model.net, &c->kept);
    return reading_c;
}

/* What whoever minds it keeps it at after so long. */
static double minded_c(const ks_hand *h, double from_c, double hours)
{
    double goes_c = from_c + h->mind_k_h * hours;
    return h->mind_k_h == 0  ? h->mind_c
           : h->mind_k_h > 0 ? fmin(goes_c, h->mind_c)
                             : fmax(goes_c, h->mind_c);
}

void ks_hand_run(ks_hand *h, double until_s)
{
    ks_course *c = h->c;
    bool was_down = c->cone_down;
    double from_c = ks_course_reading_c(c), from_s = c->time_s;
    while (c->time_s < until_s - 1e-6 && c->cone_down == was_down) {
        double dt_s = fmax(fmin(c->job->parts.options->step_s, until_s - c->time_s), 1e-3);
        double hours = (c->time_s + dt_s - from_s) / S_PER_H;
        ks_course_step(c, h->minded ? minded_c(h, from_c, hours) : unminded_c(c->switched), dt_s);
        if (c->job->end_cone < 0 && ks_course_reading_c(c) >= ks_schedule_top_c(c->job->schedule))
            c->cone_down = true; /* by pyrometer */
    }
}
