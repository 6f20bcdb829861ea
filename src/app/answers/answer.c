#include "app/answers/answer.h"

#include "app/answers/answer_frame.h"
#include "base/version.h"
#include "studio/owner_count.h"

#include <math.h>
#include <string.h>

void ks_answer_open(ks_json_out *out, const char *command, const char *status)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "format", "kilnstow-answer/1");
    ks_out_text(out, "version", ks_version);
    ks_out_text(out, "command", command);
    ks_out_text(out, "status", status);
}

void ks_answer_texts(ks_json_out *out, const char *key, int n, const char *const *texts)
{
    ks_out_array(out, key);
    for (int i = 0; i < n; i++)
        ks_out_text(out, NULL, texts[i]);
    ks_out_end(out);
}

void ks_answer_warnings(ks_json_out *out, const ks_order *order)
{
    ks_out_array(out, "warnings");
    for (int i = 0; order && i < order->n_warnings; i++)
        ks_out_text(out, NULL, order->warnings[i]);
    ks_out_end(out);
}

const char *ks_answer_close(ks_json_out *out)
{
    ks_out_end(out);
    ks_out_end(out);
    return ks_out_done(out);
}

/* One text for each line of the error. */
static void add_lines(ks_json_out *out, const char *text, ks_arena *arena)
{
    while (*text) {
        size_t length = strcspn(text, "\n");
        ks_out_text(out, NULL, ks_arena_text_n(arena, text, length));
        text += length + (text[length] == '\n');
    }
}

const char *ks_answer_failure(const char *command, const ks_error *err, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, command, "error");
    ks_out_array(&out, "warnings");
    ks_out_end(&out);
    ks_out_array(&out, "errors");
    add_lines(&out, err->text, arena);
    ks_out_end(&out);
    ks_out_null(&out, "result");
    ks_out_end(&out);
    return ks_out_done(&out);
}

static void add_broken(ks_json_out *out, const ks_check_report *report)
{
    ks_out_array(out, "broken");
    for (int i = 0; i < report->n_broken; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "rule", report->broken[i].rule);
        ks_out_text(out, "where", report->broken[i].where);
        ks_out_number(out, "by_mm", report->broken[i].by_mm);
        ks_out_number(out, "by", report->broken[i].by_mm);
        ks_out_text(out, "unit", report->broken[i].unit);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_remarks(ks_json_out *out, const ks_check_report *report)
{
    ks_out_array(out, "remarks");
    for (int i = 0; i < report->n_remarks; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "rule", report->remarks[i].rule);
        ks_out_text(out, "where", report->remarks[i].where);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_ruler(ks_json_out *out, const ks_ruler *ruler)
{
    ks_out_object(out, "ruler");
    ks_out_number(out, "error_mm", ruler->error_mm);
    ks_out_number(out, "beside_mm", ruler->beside_mm);
    ks_out_number(out, "above_mm", ruler->above_mm);
    ks_out_array(out, "measure_again");
    for (int i = 0; i < ruler->n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", ruler->of[i].id);
        ks_out_text(out, "where", ruler->of[i].where);
        ks_out_number(out, "decides_mm", ruler->of[i].decides_mm);
        ks_out_bool(out, "waits", ruler->of[i].waits);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
}

static void add_fewer(ks_json_out *out, const ks_load_saved *saved)
{
    if (!saved) {
        ks_out_null(out, "one_load_fewer");
        return;
    }
    const ks_plan *plan = saved->plan;
    ks_out_object(out, "one_load_fewer");
    ks_out_whole(out, "loads", plan->n_loads);
    ks_out_whole(out, "placed", ks_plan_placed(plan));
    ks_out_whole(out, "left_out", ks_plan_waiting(plan));
    ks_out_array(out, "waits");
    for (int i = 0; i < plan->n_left_out; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", plan->left_out[i].id);
        ks_out_whole(out, "count", plan->left_out[i].count);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_number(out, "saves_kwh", saved->kwh);
    ks_out_number(out, "saves_hours", saved->hours);
    if (saved->costed)
        ks_out_whole(out, "saves_minor", saved->bill_minor);
    else
        ks_out_null(out, "saves_minor");
    ks_out_end(out);
}

static void add_owners(ks_json_out *out, const ks_plan *plan, ks_arena *arena)
{
    ks_owner_count *counts;
    int n = ks_owner_counts(plan, arena, &counts);
    ks_out_array(out, "owners");
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "owner", counts[i].owner);
        ks_out_whole(out, "placed", counts[i].placed);
        ks_out_whole(out, "wanted", counts[i].wanted);
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_place(const ks_place_outcome *outcome, ks_arena *arena)
{
    const ks_plan *plan = outcome->plan;
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "place", outcome->status);
    ks_out_array(&out, "warnings");
    for (int i = 0; i < plan->order->n_warnings; i++)
        ks_out_text(&out, NULL, plan->order->warnings[i]);
    for (int i = 0; i < outcome->n_notes; i++)
        ks_out_text(&out, NULL, outcome->notes[i]);
    ks_out_end(&out);
    ks_out_object(&out, "result");
    ks_out_whole(&out, "loads", plan->n_loads);
    ks_out_whole(&out, "loads_at_least", plan->loads_at_least);
    ks_out_whole(&out, "placed", ks_plan_placed(plan));
    ks_out_whole(&out, "left_out", ks_plan_waiting(plan));
    ks_out_whole(&out, "fill", ks_plan_filled(plan));
    ks_out_number(&out, "worth", plan->worth);
    ks_out_number(&out, "bound", plan->bound);
    ks_out_number(&out, "bound_gap", ks_plan_gap(plan));
    ks_out_text(&out, "bound_kind", plan->bound_kind);
    ks_out_text(&out, "stopped_by", plan->stopped_by);
    ks_out_whole(&out, "stayed", outcome->stayed);
    ks_out_whole(&out, "stood", outcome->stood);
    ks_out_number(&out, "free_worth", outcome->free_worth);
    add_owners(&out, plan, arena);
    add_fewer(&out, outcome->fewer);
    ks_out_bool(&out, "checked", outcome->report.ok);
    add_broken(&out, &outcome->report);
    add_remarks(&out, &outcome->report);
    add_ruler(&out, &outcome->report.ruler);
    ks_out_text(&out, "plan", outcome->written);
    return ks_answer_close(&out);
}

const char *ks_answer_check(const ks_check_report *report, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "check", report->ok ? "kept" : "broken");
    ks_answer_warnings(&out, NULL);
    ks_out_object(&out, "result");
    ks_out_bool(&out, "ok", report->ok);
    ks_out_array(&out, "rules");
    for (int i = 0; i < report->n_rules; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "rule", report->rules[i].rule);
        ks_out_number(&out, "tightest_mm", report->rules[i].tightest_mm);
        ks_out_number(&out, "slack", report->rules[i].tightest_mm);
        ks_out_text(&out, "unit", report->rules[i].unit);
        ks_out_text(&out, "where", report->rules[i].where);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    add_broken(&out, report);
    add_remarks(&out, report);
    add_ruler(&out, &report->ruler);
    return ks_answer_close(&out);
}

const char *ks_answer_draw(const ks_draw_outcome *outcome, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "draw", "done");
    ks_answer_texts(&out, "warnings", outcome->drawing.n_warnings, outcome->drawing.warnings);
    ks_out_object(&out, "result");
    ks_out_whole(&out, "sheets", outcome->drawing.n_sheets);
    ks_out_text(&out, "plan_hash", outcome->plan_hash);
    ks_answer_texts(&out, "files", outcome->drawing.n_files, outcome->paths);
    return ks_answer_close(&out);
}
