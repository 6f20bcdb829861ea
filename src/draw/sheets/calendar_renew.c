/* What a calendar's file said before, and what is said anew (RFC 5545, 3.8.7.4; RFC 5546, 2.1.5).
 */
#include "draw/sheets/calendar.h"

#include <stdlib.h>
#include <string.h>

/* Folded lines are joined, line ends become line feeds. */
static char *unfolded(const char *text, ks_arena *arena)
{
    ks_text out = {.arena = arena};
    for (const char *at = text; *at; at++) {
        if (*at == '\r')
            continue;
        if (*at == '\n' && (at[1] == ' ' || at[1] == '\t'))
            at++;
        else
            ks_text_add_n(&out, at, 1);
    }
    return ks_arena_text_n(arena, ks_text_end(&out), out.length);
}

static const char *value_of(const char *line, const char *name)
{
    size_t length = strlen(name);
    return strncmp(line, name, length) == 0 && line[length] == ':' ? line + length + 1 : NULL;
}

static void take_line(ks_event *event, ks_text *lines, const char *line)
{
    const char *value;
    if ((value = value_of(line, "UID")))
        event->uid = value;
    else if ((value = value_of(line, "DTSTAMP")))
        event->stamp = value;
    else if ((value = value_of(line, "SEQUENCE")))
        event->sequence = strtoll(value, NULL, 10);
    else
        ks_text_print(lines, "%s\n", line);
    if (strcmp(line, "STATUS:CANCELLED") == 0)
        event->cancelled = true;
}

int ks_events_read(const char *text, ks_arena *arena, ks_event **out)
{
    int n = 0, room = 0;
    ks_event event = {0};
    ks_text lines = {.arena = arena};
    *out = NULL;
    char *rest = NULL;
    for (char *line = strtok_r(unfolded(text, arena), "\n", &rest); line;
         line = strtok_r(NULL, "\n", &rest)) {
        if (strcmp(line, "BEGIN:VEVENT") == 0) {
            event = (ks_event){.stamp = "", .lines = ""};
            lines = (ks_text){.arena = arena};
        } else if (strcmp(line, "END:VEVENT") == 0 && event.uid && *event.stamp) {
            event.lines = ks_text_end(&lines);
            *out = KS_GROW(arena, *out, n, &room, ks_event);
            (*out)[n++] = event;
            event = (ks_event){0};
        } else if (event.lines) {
            take_line(&event, &lines, line);
        }
    }
    return n;
}

static const ks_event *same_uid(int n, const ks_event *events, const char *uid)
{
    for (int i = 0; i < n; i++)
        if (strcmp(events[i].uid, uid) == 0)
            return &events[i];
    return NULL;
}

/* The event as it was, called off: without its old status and without reminders. */
static ks_event cancelled(const ks_event *old, const char *stamp, ks_arena *arena)
{
    ks_text lines = {.arena = arena};
    bool reminder = false;
    for (const char *at = old->lines; *at;) {
        size_t length = strcspn(at, "\n");
        const char *line = ks_arena_text_n(arena, at, length);
        reminder = reminder || strcmp(line, "BEGIN:VALARM") == 0;
        if (!reminder && !value_of(line, "STATUS"))
            ks_text_print(&lines, "%s\n", line);
        if (strcmp(line, "END:VALARM") == 0)
            reminder = false;
        at += length + (at[length] == '\n');
    }
    ks_text_add(&lines, "STATUS:CANCELLED\n");
    return (ks_event){.uid = old->uid,
                      .lines = ks_text_end(&lines),
                      .stamp = *stamp ? stamp : old->stamp,
                      .sequence = old->sequence + 1,
                      .cancelled = true};
}

int ks_events_renewed(int n_old, const ks_event *old, int n_new, const ks_event *new_events,
                      int64_t fresh, ks_arena *arena, ks_event **out)
{
    int n = 0;
    *out = KS_TAKE(arena, n_old + n_new, ks_event);
    for (int i = 0; i < n_new; i++) {
        const ks_event *was = same_uid(n_old, old, new_events[i].uid);
        ks_event *now = &(*out)[n++];
        *now = new_events[i];
        now->sequence = fresh;
        if (was && strcmp(was->lines, now->lines) == 0)
            *now = *was;
        else if (was)
            now->sequence = was->sequence + 1 > fresh ? was->sequence + 1 : fresh;
    }
    for (int i = 0; i < n_old; i++)
        if (!same_uid(n_new, new_events, old[i].uid))
            (*out)[n++] = old[i].cancelled
                              ? old[i]
                              : cancelled(&old[i], n_new > 0 ? new_events[0].stamp : "", arena);
    return n;
}
