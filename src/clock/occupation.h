/* occupation.h: when a load is in its kiln, who has to be there, and when the kiln is free. */
#ifndef KILNSTOW_CLOCK_OCCUPATION_H
#define KILNSTOW_CLOCK_OCCUPATION_H

#include "clock/zone.h"
#include "kilnstow/clock.h"

/* How long a load takes, whenever it begins; seconds, from switching on unless told otherwise. */
typedef struct {
    int64_t loading_s;   /* before it */
    int64_t cone_down_s; /* KS_NO_TIME = none */
    int64_t ended_s, open_s;
    int64_t unloading_s; /* from the first piece taken out to the last */
} ks_lengths;

/* When someone may be at the studio: within any of the windows; without windows, from 6 to 22
 * o'clock (common practice, no source). */
typedef struct {
    const ks_zone_rule *zone;
    int n_open;
    const ks_window *open;
} ks_people;

bool ks_people_there(const ks_people *people, int64_t utc_s);

/* The load's times when it is switched on so; times within a minute count as its end. */
ks_occupation ks_occupied(const ks_lengths *lengths, const ks_people *people, int64_t on_s);

/* Until when someone has to see that it ends: the cone is down, or else the programme is over. */
int64_t ks_occupation_watched_s(const ks_occupation *at);

/* Whether no two loads could be in one kiln so: the later is begun before the earlier is cool and
 * out, however quickly it is emptied. */
bool ks_occupations_clash(const ks_occupation *a, const ks_occupation *b);

/* The first start from a moment on at which the kiln is free from loading until it is emptied, and
 * someone can be there to load it, to switch it on, and when it should end. */
typedef struct {
    const ks_lengths *lengths;
    const ks_people *people;
    int n_others; /* loads of the same kiln */
    const ks_occupation *const *others;
    int at_min; /* of the day, as the user told it, whoever is there to load; -1 = any whole hour */
} ks_start_wanted;

/* KS_NO_TIME: not within 60 days. Where no such start lets someone be there at its end, that is
 * given up; where none begins at the told minute, that is. */
int64_t ks_start_free(const ks_start_wanted *wanted, int64_t from_s);

/* The same question of one start. */
bool ks_start_suits(const ks_start_wanted *wanted, int64_t on_s, bool end_watched);

#endif
