#include "kilnstow/draw.h"

#include "base/civil.h"
#include "base/language.h"
#include "base/text.h"
#include "draw/scene/type.h"

#include <string.h>

/* A content line of RFC 5545: at most 75 bytes, longer ones go on after CRLF and a space (3.1),
 * never within a letter. */
static void put_line(ks_text *out, const char *line)
{
    enum { MOST = 75 };
    size_t room = MOST, left = strlen(line);
    while (left > room) {
        size_t cut = room;
        while (cut > 0 && (line[cut] & 0xC0) == 0x80)
            cut--;
        ks_text_add_n(out, line, cut);
        ks_text_add(out, "\r\n ");
        line += cut;
        left -= cut;
        room = MOST - 1;
    }
    ks_text_add(out, line);
    ks_text_add(out, "\r\n");
}

/* TEXT of RFC 5545 (3.3.11): backslash, comma, semicolon and line ends escaped. */
static const char *text_of(const char *words, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (; words && *words; words++) {
        if (*words == '\n')
            ks_text_add(&text, "\\n");
        else if (strchr("\\,;", *words))
            ks_text_print(&text, "\\%c", *words);
        else
            ks_text_add_n(&text, words, 1);
    }
    return ks_text_end(&text);
}

/* Words cleaned line by line, so that line ends stay. */
static const char *clean_lines(const char *words, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    while (words && *words) {
        size_t length = strcspn(words, "\n");
        ks_text_add(&text, ks_type_clean(arena, ks_arena_text_n(arena, words, length)));
        words += length;
        if (*words == '\n') {
            ks_text_add(&text, "\n");
            words++;
        }
    }
    return ks_text_end(&text);
}

static const char *utc_of(int64_t time_s, ks_arena *arena)
{
    ks_civil at = ks_civil_of(time_s);
    int second = (int)((time_s % 60 + 60) % 60);
    return ks_arena_print(arena, "%04d%02d%02dT%02d%02d%02dZ", at.year, at.month, at.day,
                          at.minute / 60, at.minute % 60, second);
}

typedef struct {
    const char *kind, *summary;
    int64_t from_s, to_s; /* to_s < 0: a moment */
} event;

static void put_event(ks_text *out, const ks_firing_times *times, event e)
{
    ks_arena *arena = out->arena;
    const char *title = text_of(clean_lines(times->title, arena), arena);
    put_line(out, "BEGIN:VEVENT");
    put_line(out, ks_arena_print(arena, "UID:%s-%d-%s@kilnstow.invalid", times->plan_hash,
                                 times->load, e.kind));
    put_line(out, ks_arena_print(arena, "DTSTAMP:%s", utc_of(times->stamp_s, arena)));
    put_line(out, ks_arena_print(arena, "DTSTART:%s", utc_of(e.from_s, arena)));
    if (e.to_s > e.from_s)
        put_line(out, ks_arena_print(arena, "DTEND:%s", utc_of(e.to_s, arena)));
    put_line(out, ks_arena_print(arena, "SUMMARY:%s: %s", e.summary, title));
    if (times->where && *times->where)
        put_line(out, ks_arena_print(arena, "LOCATION:%s",
                                     text_of(clean_lines(times->where, arena), arena)));
    if (times->about && *times->about)
        put_line(out, ks_arena_print(arena, "DESCRIPTION:%s",
                                     text_of(clean_lines(times->about, arena), arena)));
    put_line(out, "END:VEVENT");
}

const char *ks_firing_calendar(const ks_firing_times *times, ks_arena *arena)
{
    ks_text out = {.arena = arena};
    const event events[] = {{"loading", ks_tr("Loading"), times->loading_s, times->start_s},
                            {"firing", ks_tr("Firing"), times->start_s, times->end_s},
                            {"opening", ks_tr("Earliest opening"), times->open_s, -1}};
    put_line(&out, "BEGIN:VCALENDAR");
    put_line(&out, "VERSION:2.0");
    put_line(&out, "PRODID:-//kilnstow//kilnstow//EN");
    for (int i = 0; i < 3; i++)
        if (events[i].from_s >= 0)
            put_event(&out, times, events[i]);
    put_line(&out, "END:VCALENDAR");
    return ks_text_end(&out);
}
