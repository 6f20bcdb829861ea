#include "app/calendar_words.h"

#include "base/days/civil.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/initials.h"

static const char *const days[] = {KS_WORDS("Mon"), KS_WORDS("Tue"), KS_WORDS("Wed"),
                                   KS_WORDS("Thu"), KS_WORDS("Fri"), KS_WORDS("Sat"),
                                   KS_WORDS("Sun")};

const char *ks_calendar_time_words(const ks_calendar_outcome *outcome, int64_t utc_s,
                                   ks_arena *arena)
{
    enum { YEAR = 5 };
    if (utc_s == KS_NO_TIME)
        return "-";
    ks_civil at = ks_civil_of(ks_local_of_utc(&outcome->rule, utc_s));
    return ks_arena_print(arena, "%s %s", ks_tr(days[at.weekday]),
                          ks_zone_print(&outcome->rule, utc_s, arena) + YEAR);
}

static const char *full_time(const ks_calendar_outcome *outcome, int64_t utc_s, ks_arena *arena)
{
    ks_civil at = ks_civil_of(ks_local_of_utc(&outcome->rule, utc_s));
    return ks_arena_print(arena, "%s %s", ks_tr(days[at.weekday]),
                          ks_zone_print(&outcome->rule, utc_s, arena));
}

static const char *kiln_id(const ks_calendar_load *load)
{
    return load->of->plan->loads[load->load].kiln_id;
}

const char *ks_calendar_load_words(const ks_calendar_outcome *outcome, int at, ks_arena *arena)
{
    const ks_calendar_load *load = &outcome->loads[at];
    bool several = false;
    for (int i = 0; i < outcome->n_loads; i++)
        several = several || outcome->loads[i].of != load->of;
    return several ? ks_arena_print(arena, "load %d of %s", load->load + 1, load->of->path)
                   : ks_arena_print(arena, "load %d", load->load + 1);
}

const char *ks_calendar_clash_words(const ks_calendar_outcome *outcome, int clash, ks_arena *arena)
{
    const ks_calendar_clash *of = &outcome->clashes[clash];
    const ks_calendar_load *later = &outcome->loads[of->later];
    const char *free_words = of->free_s == KS_NO_TIME
                                 ? ks_tr("no free time found within 60 days")
                                 : ks_arena_print(arena, "nearest free time to switch it on: %s",
                                                  full_time(outcome, of->free_s, arena));
    return ks_arena_print(
        arena, "clash on %s: %s would be loaded %s, and %s may not be opened before %s; %s",
        kiln_id(later), ks_calendar_load_words(outcome, of->later, arena),
        ks_calendar_time_words(outcome, later->at.loading_s, arena),
        ks_calendar_load_words(outcome, of->earlier, arena),
        ks_calendar_time_words(outcome, outcome->loads[of->earlier].at.open_s, arena), free_words);
}

/* ", Ruth"; nothing of the studio's own ware. */
static const char *owner_words(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const ks_member *member = ks_member_of(order, piece->owner);
    return *piece->owner ? ks_joined(", ", member ? member->name : piece->owner, "", arena) : "";
}

const char *ks_calendar_due_words(const ks_calendar_outcome *outcome, int due, ks_arena *arena)
{
    const ks_calendar_due *of = &outcome->dues[due];
    const ks_piece *piece = &of->of->plan->order->pieces[of->piece];
    const char *where = ks_arena_print(arena, "in no load of %s", of->of->path);
    if (of->load >= 0)
        where =
            ks_arena_print(arena, "%s opens %s", ks_calendar_load_words(outcome, of->load, arena),
                           ks_calendar_time_words(outcome, of->opens_s, arena));
    return ks_arena_print(arena, "%s: %d x %s%s, due %s, %s",
                          of->late ? ks_tr("late") : ks_tr("in time"), of->copies,
                          piece->name && *piece->name ? piece->name : piece->id,
                          owner_words(of->of->plan->order, piece, arena),
                          full_time(outcome, of->due_s, arena), where);
}
