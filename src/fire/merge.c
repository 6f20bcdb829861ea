#include "fire/merge.h"

#include <math.h>
#include <string.h>

#define FULL_K_H 400.0 /* what "as fast as it can" comes to, by a small kiln's first hours */

static double from_c(const ks_schedule *s, int i)
{
    return i > 0 ? s->segments[i - 1].target_c : 20;
}

static double rate_k_h(const ks_segment *segment)
{
    return segment->rate_c_h == 0 ? FULL_K_H : fabs(segment->rate_c_h);
}

static double slower_k_h(const ks_schedule *s, int i)
{
    return fmin(rate_k_h(&s->segments[i]), rate_k_h(&s->segments[i + 1]));
}

/* Hours that i and i + 1 take longer as one; infinity where they cannot be one. */
static double merging_h(const ks_schedule *s, int i)
{
    double a_c = from_c(s, i), b_c = s->segments[i].target_c, c_c = s->segments[i + 1].target_c;
    bool turns = (b_c - a_c) * (c_c - b_c) <= 0;
    if (turns || s->segments[i].hold_h > 0)
        return INFINITY;
    double apart_h = fabs(b_c - a_c) / rate_k_h(&s->segments[i]) +
                     fabs(c_c - b_c) / rate_k_h(&s->segments[i + 1]);
    return fabs(c_c - a_c) / slower_k_h(s, i) - apart_h;
}

static void merge_pair(ks_worked_schedule *worked, int i)
{
    ks_schedule *s = &worked->schedule;
    ks_segment *first = &s->segments[i], *second = &s->segments[i + 1];
    double rate = slower_k_h(s, i);
    bool first_slower = rate_k_h(first) <= rate_k_h(second);
    second->rate_c_h = rate >= FULL_K_H ? 0 : second->target_c > from_c(s, i) ? rate : -rate;
    if (first_slower)
        worked->reasons[i + 1] = worked->reasons[i];
    size_t rest = (size_t)(s->n_segments - i - 1);
    memmove(first, second, rest * sizeof *first);
    memmove(&worked->reasons[i], &worked->reasons[i + 1], rest * sizeof *worked->reasons);
    memmove(&worked->holds[i], &worked->holds[i + 1], rest * sizeof *worked->holds);
    s->n_segments--;
}

void ks_schedule_merge(ks_worked_schedule *worked, int most, ks_arena *arena)
{
    ks_schedule *s = &worked->schedule;
    int before = s->n_segments;
    double more_h = 0;
    worked->merged = "";
    while (most > 0 && s->n_segments > most) {
        int best = 0;
        for (int i = 1; i + 1 < s->n_segments; i++)
            if (merging_h(s, i) < merging_h(s, best))
                best = i;
        if (s->n_segments < 2 || isinf(merging_h(s, best)))
            break;
        more_h += merging_h(s, best);
        merge_pair(worked, best);
    }
    if (s->n_segments > most && most > 0)
        worked->merged = ks_arena_print(arena,
                                        "the controller holds %d segments and this load needs %d: "
                                        "set the rest as a second programme",
                                        most, s->n_segments);
    else if (s->n_segments < before)
        worked->merged = ks_arena_print(arena,
                                        "the controller holds %d segments, %d would be best: some "
                                        "are merged at the slower rate, which takes %.1f h longer",
                                        most, before, more_h);
}
