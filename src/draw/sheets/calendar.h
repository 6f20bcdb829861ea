/* calendar.h: events of an iCalendar file, between what makes them and what compares them with
 * those written before. */
#ifndef KILNSTOW_DRAW_SHEETS_CALENDAR_H
#define KILNSTOW_DRAW_SHEETS_CALENDAR_H

#include "base/text.h"
#include "kilnstow/draw.h"

#define KS_CALENDAR_MAKER "PRODID:-//kilnstow//kilnstow//EN"

/* An event's unfolded lines between its BEGIN and END, each ended by a line feed, without those
 * that tell which issue of it this is. */
typedef struct {
    const char *uid;
    const char *lines;
    const char *stamp; /* value of DTSTAMP, "" = none read */
    int64_t sequence;
    bool cancelled;
} ks_event;

/* The events of a file's text, in its order; anything else in it is passed over. */
int ks_events_read(const char *text, ks_arena *arena, ks_event **out);

/* What is to be written after `before`: the new events as their issues tell, then those that are no
 * more, cancelled. `fresh` is the first SEQUENCE of an event that was not there before. */
int ks_events_renewed(int n_old, const ks_event *old, int n_new, const ks_event *new_events,
                      int64_t fresh, ks_arena *arena, ks_event **out);

#endif
