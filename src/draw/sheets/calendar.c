#include "clock/occupation.h"
#include "draw/sheets/calendar.h"

#include "base/days/civil.h"
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

/* Without its Z. */
static const char *utc_of(int64_t time_s, ks_arena *arena)
{
    ks_civil at = ks_civil_of(time_s);
    int second = (int)((time_s % 60 + 60) % 60);
    return ks_arena_print(arena, "%04d%02d%02dT%02d%02d%02d", at.year, at.month, at.day,
                          at.minute / 60, at.minute % 60, second);
}

static const char *moment_of(const ks_calendar *calendar, int64_t time_s, ks_arena *arena)
{
    ks_civil at = ks_civil_of(time_s);
    return ks_arena_print(arena, "%04d%02d%02dT%02d%02d00%s", at.year, at.month, at.day,
                          at.minute / 60, at.minute % 60, *calendar->zone ? "Z" : "");
}

typedef struct {
    const char *kind, *summary;
    int64_t from_s, to_s;
    bool at_end, at_start; /* someone has to be there */
} happening;

/* A reminder half an hour before. */
static void add_reminder(ks_text *out, const char *related, const char *summary)
{
    ks_text_print(out,
                  "BEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:%s\nTRIGGER%s:-PT30M\nEND:VALARM\n",
                  summary, related);
}

static ks_event event_of(const ks_calendar *calendar, const ks_dated_load *load, happening what,
                         ks_arena *arena)
{
    ks_text out = {.arena = arena};
    const char *title = load->title && *load->title ? load->title : ks_tr("load");
    const char *words =
        ks_arena_print(arena, "%s: %s, %s, load %d", what.summary, load->kiln, title, load->load);
    const char *summary = text_of(clean_lines(words, arena), arena);
    ks_text_print(&out, "DTSTART:%s\nDTEND:%s\nSUMMARY:%s\n",
                  moment_of(calendar, what.from_s, arena), moment_of(calendar, what.to_s, arena),
                  summary);
    if (load->where && *load->where)
        ks_text_print(&out, "LOCATION:%s\n", text_of(clean_lines(load->where, arena), arena));
    if (load->about && *load->about)
        ks_text_print(&out, "DESCRIPTION:%s\n", text_of(clean_lines(load->about, arena), arena));
    if (!what.at_start && !what.at_end)
        ks_text_add(&out, "TRANSP:TRANSPARENT\n");
    ks_text_print(&out, "STATUS:%s\n", load->proposed ? "TENTATIVE" : "CONFIRMED");
    if (what.at_start)
        add_reminder(&out, "", summary);
    if (what.at_end)
        add_reminder(&out, ";RELATED=END", summary);
    const char *uid = ks_joined(load->uid, "-", what.kind, arena);
    return (ks_event){.uid = ks_joined(uid, "@kilnstow.invalid", "", arena),
                      .lines = ks_text_end(&out),
                      .stamp = ks_arena_print(arena, "%sZ", utc_of(calendar->stamp_s, arena))};
}

enum { HAPPENINGS = 4 };

static void add_events(const ks_calendar *calendar, const ks_dated_load *load, ks_arena *arena,
                       ks_event *events)
{
    const ks_occupation *at = &load->at;
    const happening all[HAPPENINGS] = {
        {"loading", ks_tr("Load the kiln"), at->loading_s, at->on_s, false, true},
        {"firing", ks_tr("Firing, be there when it should end"), at->on_s,
         ks_occupation_watched_s(at), true, false},
        {"cooling", ks_tr("Cooling, keep shut"), ks_occupation_watched_s(at), at->open_s, false,
         false},
        {"unloading", ks_tr("Unload the kiln"), at->unloading_s, at->empty_s, false, true}};
    for (int i = 0; i < HAPPENINGS; i++)
        events[i] = event_of(calendar, load, all[i], arena);
}

/* Some other file's calendar is no issue of ours. */
static int events_before(const char *before, ks_arena *arena, ks_event **out)
{
    *out = NULL;
    return before && strstr(before, KS_CALENDAR_MAKER) ? ks_events_read(before, arena, out) : 0;
}

static void put_event(ks_text *out, const ks_event *event)
{
    put_line(out, "BEGIN:VEVENT");
    put_line(out, ks_arena_print(out->arena, "UID:%s", event->uid));
    put_line(out, ks_arena_print(out->arena, "DTSTAMP:%s", event->stamp));
    put_line(out, ks_arena_print(out->arena, "SEQUENCE:%lld", (long long)event->sequence));
    for (const char *at = event->lines; *at;) {
        size_t length = strcspn(at, "\n");
        put_line(out, ks_arena_text_n(out->arena, at, length));
        at += length + (at[length] == '\n');
    }
    put_line(out, "END:VEVENT");
}

/* Minutes since 2026: two files of one plan written apart still tell which is the later. */
static int64_t fresh_sequence(int64_t stamp_s)
{
    static const int64_t since_s = 1767225600;
    return stamp_s > since_s ? (stamp_s - since_s) / 60 : 0;
}

const char *ks_calendar_text(const ks_calendar *calendar, const char *before, ks_arena *arena)
{
    ks_text out = {.arena = arena};
    ks_event *old, *all, *events = KS_TAKE(arena, HAPPENINGS * calendar->n_loads, ks_event);
    for (int i = 0; i < calendar->n_loads; i++)
        add_events(calendar, &calendar->loads[i], arena, &events[HAPPENINGS * i]);
    int n_old = events_before(before, arena, &old);
    int n = ks_events_renewed(n_old, old, HAPPENINGS * calendar->n_loads, events,
                              fresh_sequence(calendar->stamp_s), arena, &all);
    put_line(&out, "BEGIN:VCALENDAR");
    put_line(&out, "VERSION:2.0");
    put_line(&out, KS_CALENDAR_MAKER);
    for (int i = 0; i < n; i++)
        put_event(&out, &all[i]);
    put_line(&out, "END:VCALENDAR");
    return ks_text_end(&out);
}
