/* On the way down, where the ware bears less than the kiln falls by itself: switches are turned on
 * again, as high as keeps the fall within it. */
#include "fire/hand.h"

#include <math.h>

#define FAST_K 50.0    /* in half an hour: so fast it is the chamber that falls; its ware lags */
#define FAST_PART 0.35 /* of what is allowed then; */
#define NEAR_PART 0.1  /* and of less */
#define SLUGGISH_PART 0.5
#define FIRST_LOOK_S 900.0

/* The lowest reading that the schedule allows in half an hour; -INFINITY = any. */
static double floor_c(const ks_hand *h)
{
    const ks_schedule *s = h->c->job->schedule;
    double at_c = ks_course_reading_c(h->c), left_h = MARK_S / S_PER_H;
    for (int i = h->segment; i < s->n_segments; i++) {
        const ks_segment *segment = &s->segments[i];
        double rate = fabs(segment->rate_c_h), fall_k = fmax(at_c - segment->target_c, 0);
        if (rate > 0 && fall_k > rate * left_h)
            return at_c - rate * left_h;
        at_c -= fall_k;
        left_h -=
            (rate > 0 ? fall_k / rate : 0) + (i == h->segment ? h->hold_left_h : segment->hold_h);
        if (left_h <= 0)
            return at_c;
    }
    return -INFINITY;
}

/* The lowest setting with which it does not fall below; the highest where none is enough. */
static int lowest_above(ks_hand *h, double least_c, bool even)
{
    int found = ALL_OFF;
    for (int s = ALL_OFF; s < ks_hand_settings(h); s++) {
        if (s != ALL_OFF && even && !ks_hand_is_even(h, s))
            continue;
        found = s;
        if (ks_hand_ahead_c(h, s) >= least_c)
            break;
    }
    return found;
}

static double near_k(double allowed_k)
{
    return allowed_k > FAST_K ? FAST_PART * allowed_k : fmin(SPARE_K, NEAR_PART * allowed_k);
}

/* The setting that keeps the fall within what is allowed without holding it up, all switches alike
 * where that may be; *minds where every one falls too fast or hardly at all. */
static int fall_setting(ks_hand *h, bool *minds)
{
    double now_c = ks_course_reading_c(h->c), least_c = floor_c(h), allowed_k = now_c - least_c;
    *minds = false;
    if (!isfinite(least_c))
        return ALL_OFF;
    double near = near_k(allowed_k), slow_c = now_c - SLUGGISH_PART * allowed_k;
    int chosen = lowest_above(h, least_c - near, true);
    if (ks_hand_ahead_c(h, chosen) > slow_c)
        chosen = lowest_above(h, least_c - near, false);
    double rate_k_h = fabs(ks_hand_segment(h)->rate_c_h), slow_k_h = FAST_K * S_PER_H / MARK_S;
    bool limited = h->there || (rate_k_h > 0 && rate_k_h <= slow_k_h);
    *minds = limited && ks_hand_ahead_c(h, chosen) > slow_c + near;
    return chosen;
}

static void choose_fall(ks_hand *h)
{
    bool minds;
    int chosen = fall_setting(h, &minds);
    const ks_segment *segment = ks_hand_segment(h);
    double mind_k_h = h->there ? 0 : -fabs(segment->rate_c_h);
    bool otherwise = minds && (h->mind_c != segment->target_c || h->mind_k_h != mind_k_h);
    if (chosen == h->setting && minds == h->minded && !otherwise)
        return;
    h->minded = minds;
    h->mind_c = segment->target_c;
    h->mind_k_h = mind_k_h;
    ks_hand_turn(h, chosen);
}

/* A hold runs once the kiln has been there; what is behind it is over. */
static void move_down(ks_hand *h)
{
    const ks_schedule *s = h->c->job->schedule;
    double at_c = ks_course_reading_c(h->c);
    h->there = h->there || at_c <= ks_hand_segment(h)->target_c + SPARE_K;
    if (h->there)
        h->hold_left_h -= MARK_S / S_PER_H;
    while (h->segment < s->n_segments && h->there && h->hold_left_h <= 1e-9) {
        if (++h->segment == s->n_segments)
            return;
        h->hold_left_h = ks_hand_segment(h)->hold_h;
        h->there = at_c <= ks_hand_segment(h)->target_c + SPARE_K;
    }
}

void ks_hand_cool(ks_hand *h)
{
    const ks_schedule *s = h->c->job->schedule;
    h->segment = h->last + 1;
    h->there = false;
    h->hold_left_h = h->segment < s->n_segments ? ks_hand_segment(h)->hold_h : 0;
    if (h->segment == s->n_segments)
        return;
    ks_hand_run(h, h->c->time_s + FIRST_LOOK_S);
    for (move_down(h); h->segment < s->n_segments && h->c->time_s < 2 * LONGEST_S; move_down(h)) {
        choose_fall(h);
        ks_hand_run(h, h->c->time_s + MARK_S);
    }
    if (h->setting != ALL_OFF)
        ks_hand_turn_off(h, "no colour inside any more");
    h->c->watched_s = h->c->time_s - ks_hand_turned_s(h);
}
