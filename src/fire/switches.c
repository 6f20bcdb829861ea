#include "fire/switches.h"

#include "fire/hand.h"

#include <math.h>

#define DRIES_BY_C 130.0 /* holds up to here are for water: lid propped */
#define FULL_K_H 400.0   /* of a segment that asks for all the kiln can */
#define OVER_K 20.0
#define OVER_PART 0.5 /* of what is allowed, where that is little */
#define MINDED_OVER_PART 0.1
#define SLUGGISH_K 12.0 /* in half an hour: a cone would wait too long */
#define SLUGGISH_PART 0.5
#define STUCK_K 0.5
#define AS_ASKED_K 1000.0 /* stands for the rise while it is minded: it says nothing */

/* What the schedule lets a kiln come to in the next half hour. */
static double allowed_c(const ks_hand *h)
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

/* A hold runs once the kiln has been there; what is behind it is over. */
static void move_on(ks_hand *h)
{
    double at_c = ks_course_reading_c(h->c);
    h->there = h->there || at_c >= ks_hand_segment(h)->target_c - SPARE_K;
    if (h->there)
        h->hold_left_h -= MARK_S / S_PER_H;
    while (h->segment < h->last && h->there && h->hold_left_h <= 1e-9) {
        h->segment++;
        h->hold_left_h = ks_hand_segment(h)->hold_h;
        h->there = at_c >= ks_hand_segment(h)->target_c - SPARE_K;
    }
}

static bool dries(const ks_hand *h)
{
    return ks_hand_segment(h)->target_c <= DRIES_BY_C;
}

static bool holds(const ks_hand *h)
{
    return h->hold_left_h > 1e-9 && (h->there || dries(h));
}

/* The highest setting with which the ware still bears what comes, the present one at least; all
 * switches alike where that may be, for whoever turns them. */
static int borne_setting(ks_hand *h, double allowed, bool even)
{
    int borne = h->setting;
    for (int s = h->setting + 1; s < ks_hand_settings(h); s++) {
        if (ks_hand_ahead_c(h, s) > allowed + SPARE_K)
            break;
        borne = !even || ks_hand_is_even(h, s) ? s : borne;
    }
    return borne;
}

static int raised_setting(ks_hand *h, double allowed, bool sluggish)
{
    int even = borne_setting(h, allowed, true);
    if (even > h->setting || !sluggish)
        return even;
    int borne = borne_setting(h, allowed, false);
    return borne > h->setting ? borne : h->setting + 1;
}

/* No position of the switches is slow enough here for somebody who only looks each half hour. */
static bool needs_minding(const ks_hand *h)
{
    return h->c->job->minded && h->c->job->minded[h->segment];
}

/* Down where it runs away, unless it would fall, or hardly rise where somebody minds it anyhow. */
static bool goes_down(ks_hand *h, double now_c, double allowed)
{
    double allowed_k = fmax(allowed - now_c, 0), over_k = fmin(OVER_K, OVER_PART * allowed_k);
    double least_k = needs_minding(h) ? SLUGGISH_PART * allowed_k : 0;
    return h->setting > 0 && !holds(h) && ks_hand_ahead_c(h, h->setting) > allowed + over_k &&
           ks_hand_ahead_c(h, h->setting - 1) > now_c + least_k;
}

/* Up where the ware bears it or the kiln lags. */
static void choose(ks_hand *h, double rose_k)
{
    double now_c = ks_course_reading_c(h->c), allowed = allowed_c(h);
    bool sluggish =
        rose_k < fmin(SLUGGISH_K, SLUGGISH_PART * (allowed - now_c)) && (!holds(h) || !h->there);
    int raised =
        h->setting + 1 < ks_hand_settings(h) ? raised_setting(h, allowed, sluggish) : h->setting;
    if (raised > h->setting)
        ks_hand_turn(h, raised);
    else if (!sluggish && goes_down(h, now_c, allowed))
        ks_hand_turn(h, h->setting - 1);
}

static bool runs_past_hold(ks_hand *h)
{
    return holds(h) && ks_hand_ahead_c(h, h->setting) > ks_hand_segment(h)->target_c + SPARE_K;
}

static bool runs_ahead(ks_hand *h)
{
    double now_c = ks_course_reading_c(h->c), allowed = allowed_c(h);
    double over_k = fmin(SPARE_K, MINDED_OVER_PART * (allowed - now_c));
    return needs_minding(h) && !holds(h) && ks_hand_ahead_c(h, h->setting) > allowed + over_k;
}

/* A hold is kept by switching off and on, where it would run past it, and so is a rise that has to
 * be minded; the lid is shut once the water is out. */
static void mind(ks_hand *h)
{
    const ks_segment *segment = ks_hand_segment(h);
    bool past = runs_past_hold(h), minded = past || runs_ahead(h);
    double mind_k_h = past || !minded ? 0 : segment->rate_c_h;
    bool propped = h->c->lid_propped && dries(h);
    bool otherwise = minded && (h->mind_c != segment->target_c || h->mind_k_h != mind_k_h);
    if (minded == h->minded && propped == h->c->lid_propped && !otherwise)
        return;
    h->mind_c = segment->target_c;
    h->mind_k_h = mind_k_h;
    h->minded = minded;
    h->c->lid_propped = propped;
    ks_hand_turn(h, h->setting);
}

static void find_turns(ks_hand *h)
{
    ks_course *c = h->c;
    c->lid_propped = dries(h);
    ks_hand_turn(h, 0);
    for (double rose_k = INFINITY; !c->cone_down && !c->gave_up;) {
        double before_c = ks_course_reading_c(c);
        mind(h);
        if (isfinite(rose_k))
            choose(h, rose_k);
        mind(h);
        ks_hand_run(h, c->time_s + MARK_S);
        rose_k = h->minded ? AS_ASKED_K : ks_course_reading_c(c) - before_c;
        bool stuck = h->setting == ks_hand_settings(h) - 1 && !h->minded && rose_k < STUCK_K;
        c->gave_up = !c->cone_down && (stuck || c->time_s > LONGEST_S);
        move_on(h);
    }
}

static const char *end_words(const ks_course *c)
{
    int cone = c->job->end_cone;
    if (cone < 0)
        return "the pyrometer reads the top";
    return ks_arena_print(c->arena,
                          "cone %s nearly down: look each 15 min from an hour before; %s%s goes "
                          "first",
                          ks_cone(cone)->name, cone > 0 ? "cone " : "the guide cone",
                          cone > 0 ? ks_cone(cone - 1)->name : "");
}

static void take(ks_hand *h, const ks_turn *turn)
{
    h->c->switched = turn->part;
    h->c->lid_propped = turn->lid_propped;
    h->minded = turn->minded;
    h->mind_c = turn->hold_c;
    h->mind_k_h = turn->toward_k_h;
}

/* Which turn switches all off when the cone is nearly down. */
static int end_of(const ks_run_job *job)
{
    int end = 0;
    while (end + 1 < job->n_turns && job->turns[end].part > 0)
        end++;
    return end;
}

/* The same turns; those of the cooling as long after the end as they were. */
static void repeat_turns(ks_hand *h)
{
    ks_course *c = h->c;
    const ks_run_job *job = c->job;
    int end = end_of(job);
    for (int i = 0; i < end && !c->cone_down; i++) {
        take(h, &job->turns[i]);
        ks_hand_run(h, i + 1 == end ? LONGEST_S : job->turns[i + 1].at_h * S_PER_H);
    }
    c->gave_up = !c->cone_down;
    double later_s = c->time_s - job->turns[end].at_h * S_PER_H;
    for (int i = end; i + 1 < job->n_turns && c->cone_down; i++) {
        take(h, &job->turns[i]);
        ks_hand_run(h, job->turns[i + 1].at_h * S_PER_H + later_s);
    }
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
    ks_hand h = {.c = c,
                 .last = last_rise(c->job->schedule),
                 .hold_left_h = c->job->schedule->segments[0].hold_h};
    if (c->job->n_turns > 0)
        repeat_turns(&h);
    else
        find_turns(&h);
    if (!c->gave_up && c->job->n_turns == 0) {
        ks_hand_turn_off(&h, end_words(c));
        ks_hand_cool(&h);
    }
    c->switched = 1;
    c->lid_propped = false;
}
