/* What fit answers another program. */
#include "app/answers/answer.h"
#include "app/answers/answer_frame.h"
#include "studio/reason_words.h"

#include <math.h>

static void add_spares(ks_json_out *out, const char *key, double around, double above)
{
    ks_out_object_flat(out, key);
    ks_out_number(out, "around", around);
    ks_out_number(out, "above", above);
    ks_out_end(out);
}

static void add_way(ks_json_out *out, const char *key, const ks_kiln *kiln, const ks_fit_way *way)
{
    if (!way->possible)
        return;
    ks_out_object(out, key);
    ks_out_text(out, "bay", kiln->bays[way->bay].id);
    ks_out_whole(out, "shelves", kiln->bays[way->bay].supports[way->support].n_shelves);
    ks_out_number(out, "z_mm", way->z_mm);
    ks_out_number(out, "post_mm", way->post_mm);
    ks_out_number(out, "x_mm", way->stand.x);
    ks_out_number(out, "y_mm", way->stand.y);
    ks_out_number(out, "turn", way->stand.turn_deg);
    add_spares(out, "spare_mm", way->around_mm, way->above_mm);
    ks_out_text(out, "tightest", way->tightest);
    ks_out_end(out);
}

static void add_visit(ks_json_out *out, const ks_kiln *kiln, const ks_fit_visit *visit)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "name", visit->name);
    ks_out_bool(out, "fits", visit->fits);
    ks_out_number(out, "breadth_mm", visit->breadth_mm);
    ks_out_number(out, "height_mm", visit->height_mm);
    add_way(out, "best", kiln, &visit->best);
    add_way(out, "under_shelf", kiln, &visit->under_shelf);
    add_spares(out, "error_mm", visit->error_around_mm, visit->error_above_mm);
    if (visit->fits)
        ks_out_number(out, "beside_mm", visit->beside_mm);
    if (isfinite(visit->passage_mm)) {
        ks_out_number(out, "passage_mm", visit->passage_mm);
        ks_out_number(out, "error_passage_mm", visit->error_passage_mm);
    }
    ks_out_end(out);
}

static void add_setting(ks_json_out *out, const ks_fit_setting *setting)
{
    if (setting->now_x_mm <= 0)
        return;
    ks_out_object(out, "setting");
    ks_out_number(out, "now_x_mm", setting->now_x_mm);
    ks_out_number(out, "now_y_mm", setting->now_y_mm);
    ks_out_number(out, "now_thick_mm", setting->now_thick_mm);
    ks_out_number(out, "wet_x_mm", setting->wet_x_mm);
    ks_out_number(out, "wet_y_mm", setting->wet_y_mm);
    ks_out_number(out, "wet_thick_mm", setting->wet_thick_mm);
    ks_out_number(out, "wet_low", setting->wet_low);
    ks_out_number(out, "wet_high", setting->wet_high);
    ks_out_number(out, "fired_margin_mm", setting->fired_margin_mm);
    ks_out_number(out, "under_litres", setting->under_litres);
    ks_out_number(out, "over_litres", setting->over_litres);
    ks_out_number(out, "grog_kg", setting->grog_kg);
    ks_out_end(out);
}

static void add_travel(ks_json_out *out, const char *key, const ks_travel *travel)
{
    ks_out_object_flat(out, key);
    ks_out_number(out, "outward", travel->outward_mm);
    ks_out_number(out, "expected", travel->expected_mm);
    ks_out_number(out, "worst", travel->worst_mm);
    ks_out_number(out, "slab_rim", travel->slab_rim_mm);
    ks_out_number(out, "form_on_slab", travel->form_on_slab_mm);
    ks_out_number(out, "expected_low", travel->expected_low_mm);
    ks_out_number(out, "expected_high", travel->expected_high_mm);
    ks_out_number(out, "worst_high", travel->worst_high_mm);
    ks_out_bool(out, "assumed", travel->assumed);
    ks_out_end(out);
}

static void add_if_known(ks_json_out *out, const char *key, double number)
{
    if (isfinite(number))
        ks_out_number(out, key, number);
    else
        ks_out_null(out, key);
}

static void add_care(ks_json_out *out, const ks_fit_care *care)
{
    ks_out_object(out, "care");
    add_travel(out, "travel_mm", &care->travel);
    add_travel(out, "travel_without_setter_mm", &care->bare_travel);
    ks_out_number(out, "stands_by_mm", care->stands_by_mm);
    ks_out_number(out, "stands_tilted_mm", care->stands_tilted_mm);
    ks_out_text(out, "shelf", care->shelf);
    ks_out_number(out, "on_shelf_kg", care->on_shelf_kg);
    add_if_known(out, "shelf_safe_kg", care->shelf_safe_kg);
    add_if_known(out, "shelf_limit_kg", care->shelf_limit_kg);
    ks_out_bool(out, "shelf_may_sag", care->may_sag);
    ks_out_number(out, "shelf_stress_mpa", care->shelf_stress_mpa);
    ks_out_number(out, "shelf_allowed_mpa", care->shelf_allowed_mpa);
    ks_out_number(out, "form_kg", care->form_kg);
    ks_out_number(out, "lifted_kg", care->lifted_kg);
    ks_out_number(out, "with_shelf_kg", care->with_shelf_kg);
    ks_out_number(out, "reach_mm", care->reach_mm);
    ks_out_number(out, "limit_kg", care->limit_kg);
    ks_out_whole(out, "lifters", care->lifters);
    ks_out_number(out, "hoist_kg", care->hoist_kg);
    ks_out_end(out);
}

static void add_sizes(ks_json_out *out, const ks_fit_answer *answer)
{
    ks_out_number(out, "largest_scale", answer->largest_scale);
    if (answer->largest_wet_breadth_mm <= 0)
        return;
    ks_out_number(out, "largest_wet_breadth_mm", answer->largest_wet_breadth_mm);
    ks_out_number(out, "largest_wet_height_mm", answer->largest_wet_height_mm);
    ks_out_number(out, "sure_wet_breadth_mm", answer->sure_wet_breadth_mm);
    ks_out_number(out, "sure_wet_height_mm", answer->sure_wet_height_mm);
}

/* What is short where the kiln makes no shelf for it is not known. */
static void add_stand(ks_json_out *out, const ks_fit_way *way)
{
    if (!way->possible) {
        ks_out_null(out, "turn");
        ks_out_null(out, "clearance_mm");
        ks_out_null(out, "short_by_mm");
        return;
    }
    ks_out_number(out, "turn", way->stand.turn_deg);
    ks_out_number(out, "x_mm", way->stand.x);
    ks_out_number(out, "y_mm", way->stand.y);
    add_spares(out, "clearance_mm", fmax(0, way->around_mm), fmax(0, way->above_mm));
    add_spares(out, "short_by_mm", fmax(0, -way->around_mm), fmax(0, -way->above_mm));
}

/* "but" is the worst; all of them stand under "buts". */
static void add_buts(ks_json_out *out, const ks_fit_answer *answer, const ks_display *display)
{
    if (answer->goes_in && answer->n_buts > 0)
        ks_out_text(out, "but", ks_fit_fault_name(answer->buts[0].fault));
    ks_out_array(out, "buts");
    for (int i = 0; i < answer->n_buts; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "but", ks_fit_fault_name(answer->buts[i].fault));
        ks_out_text(out, "by", answer->buts[i].by);
        ks_out_text(out, "cure",
                    ks_reason_english(&answer->buts[i].cure, display, out->text.arena));
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_joint(ks_json_out *out, const ks_fit_joint *joint)
{
    if (!joint->to)
        return;
    ks_out_object_flat(out, "joint");
    ks_out_text(out, "to", joint->to);
    ks_out_number(out, "within_mm", joint->within_mm);
    ks_out_number(out, "low_mm", joint->low_mm);
    ks_out_number(out, "high_mm", joint->high_mm);
    ks_out_end(out);
}

static void add_changes(ks_json_out *out, const ks_fit_answer *answer, const ks_display *display)
{
    const char **words = KS_TAKE(out->text.arena, answer->n_changes, const char *);
    for (int i = 0; i < answer->n_changes; i++)
        words[i] = ks_reason_english(&answer->changes[i], display, out->text.arena);
    ks_out_text(out, "nearest", answer->n_changes > 0 ? words[0] : "");
    ks_out_array(out, "changes");
    for (int i = 0; i < answer->n_changes; i++)
        ks_out_text(out, NULL, words[i]);
    ks_out_end(out);
}

static void add_fit_answer(ks_json_out *out, const ks_fit_outcome *outcome,
                           const ks_fit_answer *answer)
{
    const ks_display *display = &outcome->order->display;
    ks_out_object(out, NULL);
    ks_out_text(out, "id", outcome->order->pieces[answer->piece].id);
    ks_out_bool(out, "fits", answer->fits);
    ks_out_bool(out, "goes_in", answer->goes_in);
    add_buts(out, answer, display);
    ks_out_bool(out, "surely", answer->surely);
    ks_out_text(out, "kiln", answer->kiln->id);
    add_stand(out, &answer->visits[answer->tightest].best);
    ks_out_text(out, "says", answer->head);
    ks_out_text(out, "verdict", answer->verdict);
    ks_out_text(out, "tightest", answer->visits[answer->tightest].name);
    add_sizes(out, answer);
    add_changes(out, answer, display);
    ks_out_array(out, "visits");
    for (int v = 0; v < answer->n_visits; v++)
        add_visit(out, answer->kiln, &answer->visits[v]);
    ks_out_end(out);
    ks_out_text(out, "assumed", answer->assumed);
    add_joint(out, &answer->joint);
    add_setting(out, &answer->setting);
    if (answer->care.shelf)
        add_care(out, &answer->care);
    ks_out_end(out);
}

/* Each kiln's firing of each piece, where several were compared. */
static void add_rows(ks_json_out *out, const ks_fit_outcome *outcome)
{
    ks_out_array(out, "kilns");
    for (int i = 0; i < outcome->n_rows; i++) {
        const ks_fit_row *row = &outcome->rows[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", outcome->order->pieces[row->answer->piece].id);
        ks_out_text(out, "kiln", row->answer->kiln->id);
        ks_out_bool(out, "fits", row->answer->fits);
        if (row->fired) {
            ks_out_bool(out, "reached", row->firing.reached);
            ks_out_number(out, "kwh", row->firing.energy.total);
            ks_out_number(out, "kwh_low", row->firing.low_kwh);
            ks_out_number(out, "kwh_high", row->firing.high_kwh);
            ks_out_number(out, "hours", row->firing.hours);
            add_if_known(out, "open_after_hours", row->firing.open_after_hours);
        }
        if (row->cost_minor >= 0)
            ks_out_whole(out, "cost_minor", row->cost_minor);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_pairs(ks_json_out *out, const ks_fit_outcome *outcome)
{
    ks_out_array(out, "pairs");
    for (int i = 0; i < outcome->n_pairs; i++) {
        const ks_fit_pair *pair = &outcome->pairs[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "a", outcome->order->pieces[pair->a].id);
        ks_out_text(out, "b", outcome->order->pieces[pair->b].id);
        ks_out_text(out, "kiln", pair->kiln->id);
        ks_out_bool(out, "share_a_level", pair->together);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_loads(ks_json_out *out, const ks_fit_outcome *outcome)
{
    ks_out_array(out, "loads");
    for (int i = 0; i < outcome->n_loads; i++) {
        const ks_fit_load *load = &outcome->loads[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "kiln", load->kiln->id);
        ks_out_whole(out, "named", load->n_named);
        ks_out_whole(out, "named_in", load->named_in);
        ks_out_whole(out, "others", load->others);
        ks_out_whole(out, "others_in", load->others_in);
        ks_out_number(out, "others_worth", load->others_worth);
        if (load->written)
            ks_out_text(out, "plan", load->written);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_largest_sizes(ks_json_out *out, const ks_fit_largest *largest)
{
    ks_out_array(out, "sizes");
    for (int i = 0; i < largest->n_sizes; i++) {
        const ks_fit_size *size = &largest->sizes[i];
        ks_out_object_flat(out, NULL);
        ks_out_number(out, "high_mm", size->high_mm);
        for (int f = 0; f < KS_FEET; f++)
            ks_out_number(out, ks_arena_print(out->text.arena, "%s_mm", ks_foot_names[f]),
                          size->wide_mm[f]);
        ks_out_number(out, "left_above_mm", size->left_above_mm);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_largest(ks_json_out *out, const ks_fit_outcome *outcome)
{
    ks_out_array(out, "largest");
    for (int k = 0; k < outcome->n_largest; k++) {
        const ks_fit_largest *largest = &outcome->largest[k];
        ks_out_object(out, NULL);
        ks_out_text(out, "id", outcome->order->pieces[outcome->largest_piece].id);
        ks_out_text(out, "kiln", largest->kiln->id);
        ks_out_whole(out, "levels_under", outcome->n_below);
        ks_out_number(out, "wet_factor", largest->wet);
        ks_out_number(out, "fired_factor", largest->fired);
        ks_out_bool(out, "clay_assumed", largest->assumed);
        add_largest_sizes(out, largest);
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_fit(const ks_fit_outcome *outcome, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "fit", outcome->all_fit ? "fits" : "does_not_fit");
    ks_answer_warnings(&out, outcome->order);
    ks_out_object(&out, "result");
    ks_out_array(&out, "pieces");
    for (int i = 0; i < outcome->n_answers; i++)
        add_fit_answer(&out, outcome, &outcome->answers[i]);
    ks_out_end(&out);
    add_rows(&out, outcome);
    add_largest(&out, outcome);
    add_pairs(&out, outcome);
    add_loads(&out, outcome);
    ks_out_array(&out, "files");
    for (int i = 0; i < outcome->drawn.drawing.n_files; i++)
        ks_out_text(&out, NULL, outcome->drawn.paths[i]);
    ks_out_end(&out);
    return ks_answer_close(&out);
}
