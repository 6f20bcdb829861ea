#include "app/firing/firing_special.h"

#include "base/days/civil.h"
#include "base/language.h"
#include "studio/display.h"

typedef struct {
    ks_arena *arena;
    int room;
    ks_special_lines *out;
} special;

static void add(special *s, const char *line)
{
    s->out->lines = KS_GROW(s->arena, s->out->lines, s->out->n, &s->room, const char *);
    s->out->lines[s->out->n++] = line;
}

static void add_strains(special *s, const ks_firing_result *fired)
{
    for (int i = 0; i < fired->n_strains; i++) {
        const ks_penalty *strain = &fired->strains[i];
        add(s, ks_arena_print(s->arena, "Too fast for the ware: %s%s.", strain->says,
                              strain->more == 0   ? ""
                              : strain->more == 1 ? " (and one more kind of ware)"
                                                  : " (and more kinds of ware)"));
    }
}

static void add_behind(special *s, const ks_firing_result *fired, const ks_display *display)
{
    for (int i = 0; i < fired->n_segments; i++) {
        const ks_segment_fired *segment = &fired->segments[i];
        if (!segment->followed && *segment->instead)
            add(s, ks_arena_print(s->arena, "Segment %d, from %s on: the kiln %s.", i + 1,
                                  ks_show_temp(display, segment->left_at_c, s->arena),
                                  segment->instead));
    }
}

ks_special_lines ks_fire_special(const ks_firing_result *fired, const ks_display *display,
                                 ks_arena *arena)
{
    ks_special_lines out = {0};
    special s = {arena, 0, &out};
    for (int i = 0; i < fired->n_drying; i++)
        add(&s, ks_arena_print(arena, "First: %s.", fired->drying[i]));
    if (*fired->change)
        add(&s,
            ks_arena_print(arena, "Change: %s; then every piece is inside its range (fired anew).",
                           fired->change));
    add_strains(&s, fired);
    add_behind(&s, fired, display);
    for (int i = 0; i < fired->n_special; i++)
        add(&s, ks_arena_print(arena, "Mind: %s.", fired->cautions[i]));
    if (fired->pace.piece)
        add(&s,
            ks_arena_print(arena, "%s sets the pace: %s. It costs the others %.1f h and %.1f kWh.",
                           fired->pace.piece, fired->pace.why, fired->pace.hours_more,
                           fired->pace.kwh_more));
    return out;
}

static const char *const days[] = {KS_WORDS("Monday"),   KS_WORDS("Tuesday"), KS_WORDS("Wednesday"),
                                   KS_WORDS("Thursday"), KS_WORDS("Friday"),  KS_WORDS("Saturday"),
                                   KS_WORDS("Sunday")};

ks_firing_clock ks_firing_clock_of(const ks_order *order, const ks_load *load)
{
    return (ks_firing_clock){ks_load_start(order, load), ks_studio_zone(order)};
}

/* Hours of a firing are hours of the clock as long as it is not put forward or back meanwhile. */
static ks_civil civil_at(const ks_firing_clock *clock, double hours)
{
    int64_t on_s = ks_utc_of_local(&clock->zone, clock->start.local_min * 60);
    return ks_civil_of(ks_local_of_utc(&clock->zone, on_s + (int64_t)(hours * 3600)));
}

const char *ks_firing_clock_words(const ks_firing_clock *clock, double hours, ks_arena *arena)
{
    if (!clock->start.known)
        return "";
    ks_civil at = civil_at(clock, hours);
    return ks_arena_print(arena, "%s %02d:%02d", ks_tr(days[at.weekday]), at.minute / 60,
                          at.minute % 60);
}

const char *ks_firing_clock_short(const ks_firing_clock *clock, double hours, ks_arena *arena)
{
    if (!clock->start.known)
        return "";
    ks_civil at = civil_at(clock, hours);
    return ks_arena_print(arena, "%.2s %02d:%02d", ks_tr(days[at.weekday]), at.minute / 60,
                          at.minute % 60);
}
