#include "clock/occupation.h"

#include "base/days/civil.h"
#include "clock/window.h"

#include <stddef.h>

enum { MINUTE_S = 60, HOUR_S = 3600, DAY_S = 86400, DAYS_TRIED = 60, WEEK_MIN = 7 * KS_DAY_MIN };

static const ks_window awake = {.weekdays = 127, .months = 4095, .from_min = 360, .to_min = 1320};

bool ks_people_there(const ks_people *people, int64_t utc_s)
{
    ks_civil at = ks_civil_of(ks_local_of_utc(people->zone, utc_s));
    if (people->n_open == 0)
        return ks_window_holds(&awake, at);
    for (int i = 0; i < people->n_open; i++)
        if (ks_window_holds(&people->open[i], at))
            return true;
    return false;
}

static int64_t whole_minutes(int64_t s)
{
    return (s + MINUTE_S - 1) / MINUTE_S * MINUTE_S;
}

/* From the moment it may be opened: the first at which someone is there, and still is when it is
 * empty; the moment itself where none comes within two weeks. */
static int64_t unloading_from(const ks_people *people, int64_t open_s, int64_t takes_s)
{
    for (int m = 0; m < 2 * WEEK_MIN; m++) {
        int64_t at = open_s + (int64_t)m * MINUTE_S;
        if (ks_people_there(people, at) && ks_people_there(people, at + takes_s - MINUTE_S))
            return at;
    }
    return open_s;
}

ks_occupation ks_occupied(const ks_lengths *lengths, const ks_people *people, int64_t on_s)
{
    ks_occupation at = {
        .on_s = on_s,
        .loading_s = on_s - whole_minutes(lengths->loading_s),
        .cone_down_s = lengths->cone_down_s == KS_NO_TIME
                           ? KS_NO_TIME
                           : on_s + whole_minutes(lengths->cone_down_s),
        .ended_s = on_s + whole_minutes(lengths->ended_s),
        .open_s = on_s + whole_minutes(lengths->open_s),
    };
    int64_t takes_s = whole_minutes(lengths->unloading_s);
    at.unloading_s = unloading_from(people, at.open_s, takes_s);
    at.empty_s = at.unloading_s + takes_s;
    return at;
}

/* When it is empty if someone is there at once. */
static int64_t earliest_empty(const ks_occupation *at)
{
    return at->open_s + at->empty_s - at->unloading_s;
}

bool ks_occupations_clash(const ks_occupation *a, const ks_occupation *b)
{
    return a->loading_s < earliest_empty(b) && b->loading_s < earliest_empty(a);
}

int64_t ks_occupation_watched_s(const ks_occupation *at)
{
    return at->cone_down_s == KS_NO_TIME ? at->ended_s : at->cone_down_s;
}

static bool is_watched(const ks_people *people, const ks_occupation *at)
{
    return ks_people_there(people, ks_occupation_watched_s(at));
}

bool ks_start_suits(const ks_start_wanted *wanted, int64_t on_s, bool end_watched)
{
    const ks_lengths *lengths = wanted->lengths;
    int64_t loading_s = on_s - whole_minutes(lengths->loading_s);
    bool hour_told = wanted->at_min >= 0;
    if (hour_told
            ? wanted->people->n_open > 0 && !ks_people_there(wanted->people, on_s)
            : !ks_people_there(wanted->people, loading_s) || !ks_people_there(wanted->people, on_s))
        return false;
    ks_occupation at = ks_occupied(lengths, wanted->people, on_s);
    if (end_watched && !is_watched(wanted->people, &at))
        return false;
    for (int i = 0; i < wanted->n_others; i++)
        if (at.loading_s < wanted->others[i]->empty_s && wanted->others[i]->loading_s < at.empty_s)
            return false;
    return true;
}

/* The next whole hour of the clock, or the next day's told minute, not before `from_s`. */
static int64_t next_start(const ks_start_wanted *wanted, int64_t from_s)
{
    const ks_zone_rule *zone = wanted->people->zone;
    int64_t local_s = ks_local_of_utc(zone, from_s), at_s = (int64_t)wanted->at_min * MINUTE_S;
    if (wanted->at_min < 0)
        return from_s + (HOUR_S - (local_s % HOUR_S + HOUR_S) % HOUR_S) % HOUR_S;
    int64_t day_s = local_s - (local_s % DAY_S + DAY_S) % DAY_S;
    int64_t start_s = ks_utc_of_local(zone, day_s + at_s);
    return start_s >= from_s ? start_s : ks_utc_of_local(zone, day_s + DAY_S + at_s);
}

static int64_t first_start(const ks_start_wanted *wanted, int64_t from_s, bool end_watched)
{
    int64_t last_s = from_s + (int64_t)DAYS_TRIED * DAY_S;
    for (int64_t at = next_start(wanted, from_s); at <= last_s;
         at = next_start(wanted, at + MINUTE_S))
        if (ks_start_suits(wanted, at, end_watched))
            return at;
    return KS_NO_TIME;
}

int64_t ks_start_free(const ks_start_wanted *wanted, int64_t from_s)
{
    ks_start_wanted at_any_hour = *wanted;
    at_any_hour.at_min = -1;
    int64_t at = first_start(wanted, from_s, true);
    if (at == KS_NO_TIME)
        at = first_start(wanted, from_s, false);
    return at == KS_NO_TIME && wanted->at_min >= 0 ? ks_start_free(&at_any_hour, from_s) : at;
}
