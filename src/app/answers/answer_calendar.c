#include "app/answers/answer.h"
#include "app/answers/answer_frame.h"
#include "base/days/date.h"

/* A moment by the studio's clock, with its offset where the clock shows it twice. */
static void add_time(ks_json_out *out, const char *key, const ks_calendar_outcome *outcome,
                     int64_t utc_s)
{
    ks_out_text(out, key,
                utc_s == KS_NO_TIME ? NULL : ks_zone_print(&outcome->rule, utc_s, out->text.arena));
}

static const char *kiln_id(const ks_calendar_load *load)
{
    return load->of->plan->loads[load->load].kiln_id;
}

/* What the plan tells, for a full kiln; null where it tells nothing for this start. */
static void add_planned(ks_json_out *out, const ks_calendar_outcome *outcome,
                        const ks_calendar_load *load)
{
    if (!load->is_planned) {
        ks_out_null(out, "planned");
        return;
    }
    ks_out_object(out, "planned");
    add_time(out, "on", outcome, load->planned.on_s);
    add_time(out, "cone_down", outcome, load->planned.cone_down_s);
    add_time(out, "ended", outcome, load->planned.ended_s);
    add_time(out, "open", outcome, load->planned.open_s);
    ks_out_end(out);
}

static void add_load(ks_json_out *out, const ks_calendar_outcome *outcome,
                     const ks_calendar_load *load)
{
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "plan", load->of->path);
    ks_out_whole(out, "load", load->load + 1);
    ks_out_text(out, "kiln", kiln_id(load));
    ks_out_bool(out, "proposed", load->proposed);
    add_time(out, "loading", outcome, load->at.loading_s);
    add_time(out, "on", outcome, load->at.on_s);
    add_time(out, "cone_down", outcome, load->at.cone_down_s);
    add_time(out, "ended", outcome, load->at.ended_s);
    add_time(out, "open", outcome, load->at.open_s);
    add_time(out, "unloading", outcome, load->at.unloading_s);
    add_time(out, "empty", outcome, load->at.empty_s);
    add_planned(out, outcome, load);
    ks_out_end(out);
}

static void add_pair(ks_json_out *out, const ks_calendar_load *load)
{
    ks_out_array(out, NULL);
    ks_out_text(out, NULL, load->of->path);
    ks_out_whole(out, NULL, load->load + 1);
    ks_out_end(out);
}

static void add_clashes(ks_json_out *out, const ks_calendar_outcome *outcome)
{
    ks_out_array(out, "clashes");
    for (int i = 0; i < outcome->n_clashes; i++) {
        const ks_calendar_clash *clash = &outcome->clashes[i];
        ks_out_object(out, NULL);
        ks_out_text(out, "kiln", kiln_id(&outcome->loads[clash->earlier]));
        ks_out_array(out, "loads");
        add_pair(out, &outcome->loads[clash->earlier]);
        add_pair(out, &outcome->loads[clash->later]);
        ks_out_end(out);
        add_time(out, "free", outcome, clash->free_s);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* Dated ware that is late, or in time. */
static void add_dues(ks_json_out *out, const char *key, const ks_calendar_outcome *outcome,
                     bool late)
{
    ks_out_array(out, key);
    for (int i = 0; i < outcome->n_dues; i++) {
        const ks_calendar_due *due = &outcome->dues[i];
        const ks_piece *piece = &due->of->plan->order->pieces[due->piece];
        if (due->late != late)
            continue;
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", piece->id);
        ks_out_whole(out, "copies", due->copies);
        ks_out_text(out, "due", ks_date_print(piece->due_day, out->text.arena));
        add_time(out, "open", outcome, due->opens_s);
        ks_out_text(out, "plan", due->of->path);
        if (due->load >= 0)
            ks_out_whole(out, "load", outcome->loads[due->load].load + 1);
        else
            ks_out_null(out, "load");
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_calendar(const ks_calendar_outcome *outcome, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "calendar", outcome->n_clashes > 0 ? "clashes" : "done");
    ks_answer_texts(&out, "warnings", outcome->n_notes, outcome->notes);
    ks_out_object(&out, "result");
    ks_out_text(&out, "zone", *outcome->zone ? outcome->zone : NULL);
    ks_out_array(&out, "loads");
    for (int i = 0; i < outcome->n_loads; i++)
        add_load(&out, outcome, &outcome->loads[i]);
    ks_out_end(&out);
    add_clashes(&out, outcome);
    add_dues(&out, "late", outcome, true);
    add_dues(&out, "in_time", outcome, false);
    ks_answer_texts(&out, "files", outcome->n_paths, outcome->paths);
    return ks_answer_close(&out);
}
