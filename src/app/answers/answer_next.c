#include "app/answers/answer_log.h"

#include "app/answers/answer_frame.h"
#include "base/days/date.h"

static const char *const whys[] = {"dated", "full", "due", "waited", "waits"};

static void add_time(ks_json_out *out, const char *key, const ks_next_outcome *next, int64_t utc_s)
{
    ks_out_text(out, key,
                utc_s == KS_NO_TIME ? NULL : ks_zone_print(&next->zone, utc_s, out->text.arena));
}

static void add_times(ks_json_out *out, const ks_next_outcome *next, const ks_occupation *at)
{
    add_time(out, "loading", next, at->loading_s);
    add_time(out, "on", next, at->on_s);
    add_time(out, "cone_down", next, at->cone_down_s);
    add_time(out, "ended", next, at->ended_s);
    add_time(out, "open", next, at->open_s);
    add_time(out, "unloading", next, at->unloading_s);
}

static void add_ware(ks_json_out *out, const char *key, const ks_order *order, int n,
                     const ks_next_ware *ware)
{
    ks_out_array(out, key);
    for (int i = 0; i < n; i++) {
        const ks_piece *piece = &order->pieces[ware[i].piece];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", piece->id);
        ks_out_whole(out, "copies", ware[i].copies);
        ks_out_text(out, "due",
                    piece->due_day == KS_NO_DAY ? NULL
                                                : ks_date_print(piece->due_day, out->text.arena));
        ks_out_bool(out, "late", ware[i].late);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_firing(ks_json_out *out, const ks_next_outcome *next, const ks_next_firing *firing)
{
    static const ks_occupation no_time = {KS_NO_TIME, KS_NO_TIME, KS_NO_TIME, KS_NO_TIME,
                                          KS_NO_TIME, KS_NO_TIME, KS_NO_TIME};
    const ks_order *order = next->order;
    ks_next_fullness full = ks_next_fullness_of(next, firing);
    ks_out_object(out, NULL);
    ks_out_text(out, "kiln", order->kilns[firing->kiln].id);
    ks_out_text(out, "firing", firing->firing < 0 ? NULL : order->firings[firing->firing].id);
    ks_out_text(out, "why", whys[firing->why]);
    ks_out_number(out, "litres", firing->litres);
    ks_out_number(out, "full_percent", 100 * full.part);
    ks_out_number(out, "full_low_percent", 100 * full.low);
    ks_out_number(out, "full_high_percent", 100 * full.high);
    add_times(out, next, firing->why == KS_NEXT_WAITS ? &no_time : &firing->at);
    ks_out_whole(out, "saves_minor", firing->saves_minor);
    add_ware(out, "ware", order, firing->n_ware, firing->ware);
    ks_out_end(out);
}

const char *ks_answer_next(const ks_next_outcome *next, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "log", "done");
    ks_answer_texts(&out, "warnings", 0, NULL);
    ks_out_object(&out, "result");
    add_time(&out, "from", next, next->from_s);
    ks_out_array(&out, "firings");
    for (int i = 0; i < next->n; i++)
        add_firing(&out, next, &next->firings[i]);
    ks_out_end(&out);
    ks_out_array(&out, "still_in");
    for (int i = 0; i < next->n_cooling; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "kiln", next->order->kilns[next->cooling[i].kiln].id);
        ks_out_whole(&out, "n", next->cooling[i].entry);
        add_time(&out, "open", next, next->cooling[i].at.open_s);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    add_ware(&out, "nowhere", next->order, next->n_nowhere, next->nowhere);
    return ks_answer_close(&out);
}
