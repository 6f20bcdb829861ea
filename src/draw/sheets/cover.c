#include "draw/sheets/cover.h"

#include "studio/left_out.h"

#include <math.h>
#include <string.h>

static const char *end_words(const ks_facts *facts, ks_arena *arena)
{
    const ks_firing *firing = &facts->load->firing;
    if (firing->cone && *firing->cone)
        return ks_arena_print(arena, "cone %s", firing->cone);
    return ks_say_temp(facts->display, firing->top_temp_c, arena);
}

static double mass_of(const ks_facts *facts)
{
    double mass_kg = 0;
    for (int i = 0; i < facts->n_items; i++)
        mass_kg += facts->items[i].piece ? facts->items[i].piece->mass_kg : 0;
    return mass_kg;
}

static const char *waiting_words(const ks_plan *plan, ks_arena *arena)
{
    int n = 0;
    for (int i = 0; i < plan->n_left_out; i++)
        n += plan->left_out[i].count;
    return n == 0 ? ks_tr("none") : ks_say_count(n, "piece", "pieces", arena);
}

static const char *gap_words(const ks_plan *plan, ks_arena *arena)
{
    double gap = ks_plan_gap(plan);
    if (gap <= 0)
        return ks_tr("nothing more could go in: proven");
    if (!isfinite(gap))
        return ks_tr("not known");
    /* Rounded up: a proven bound may not be told too low. */
    return ks_arena_print(arena, "at most %.1f %% more could go in (at most %s)",
                          ceil(1000 * gap) / 10, ks_say_worth(plan, plan->bound, arena));
}

/* "14.2 lb (6.4 kg)" without what is in brackets. */
static const char *one_unit(const char *text, ks_arena *arena)
{
    return ks_arena_text_n(arena, text, strcspn(text, "("));
}

static void big_figure(ks_scene *scene, double x, const char *figure, const char *words)
{
    ks_scene_sized(scene, KS_LOOK_STRONG, (ks_point){x, KS_SHEET_TOP + 8}, KS_TITLE, figure, 41);
    ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x, KS_SHEET_TOP + 13.5}, KS_LEFT, KS_SMALL,
                    words, 41);
}

static void figures(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    double mass_kg = mass_of(facts);
    big_figure(flow->scene, KS_SHEET_LEFT, ks_arena_print(arena, "%d", facts->n_ware),
               ks_tr("pieces go in"));
    big_figure(flow->scene, 47, ks_arena_print(arena, "%d", facts->n_levels),
               ks_tr_count(facts->n_levels, "level", "levels"));
    big_figure(flow->scene, 90, end_words(facts, arena),
               facts->load->firing.atmosphere && *facts->load->firing.atmosphere
                   ? facts->load->firing.atmosphere
                   : ks_tr("firing"));
    big_figure(flow->scene, 133,
               mass_kg > 0 ? one_unit(ks_say_mass(facts->display, mass_kg, arena), arena) : "–",
               ks_tr("of ware and setters"));
    flow->y = KS_SHEET_TOP + 16;
}

static void summary(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 4, 38}, {"", 43, 133}};
    const ks_facts *facts = flow->facts;
    const ks_plan *plan = facts->plan;
    ks_arena *arena = flow->sheets->arena;
    const char *all =
        plan->n_loads > 1 ? ks_arena_print(arena, " (all %d loads)", plan->n_loads) : "";
    const char *rows[][2] = {
        {ks_tr("Kiln"), facts->kiln},
        {ks_tr("Inside height"), ks_say_both(facts->display, facts->load->height_mm, arena)},
        {ks_tr("Worth placed"),
         ks_arena_print(arena, "%s%s", ks_say_worth(plan, plan->worth, arena), all)},
        {ks_tr("Room for more"), gap_words(plan, arena)},
        {ks_tr("Still waiting"), waiting_words(plan, arena)},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ks_flow_row(flow, columns, 2, rows[i], KS_COVER_ROW);
}

static void swatch(ks_scene *scene, ks_box box, const ks_owner *owner)
{
    ks_path path = {0};
    ks_point at[4] = {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
    ks_path_move(scene->arena, &path, at[0]);
    for (int i = 1; i < 4; i++)
        ks_path_line(scene->arena, &path, at[i]);
    ks_path_close(scene->arena, &path);
    ks_scene_fill(scene, KS_LOOK_TICK, path, owner->fill);
    ks_hatch(scene, &(ks_polygon){4, at}, owner->hatch);
}

static void owners(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    if (facts->n_owners < 2)
        return;
    ks_flow_title(flow, ks_tr("Whose pieces"), KS_COVER_ROW);
    int column = 0;
    for (int i = 0; i < facts->n_owners; i++) {
        const ks_owner *owner = &facts->owners[i];
        if (owner->pieces == 0)
            continue;
        if (column == 0)
            ks_flow_need(flow, 6.5);
        double x = KS_SHEET_LEFT + 58 * column, y = flow->y;
        swatch(flow->scene, (ks_box){x + 1, y + 1, x + 9, y + 5.6}, owner);
        ks_scene_words(flow->scene, KS_LOOK_STRONG, (ks_point){x + 11, y + 4.6}, KS_LEFT, KS_SMALL,
                       owner->letter);
        ks_scene_fitted(flow->scene, KS_LOOK_TEXT, (ks_point){x + 17.5, y + 4.6}, KS_LEFT, KS_SMALL,
                        ks_arena_print(flow->sheets->arena, "%s: %d", owner->words, owner->pieces),
                        38);
        column = (column + 1) % 3;
        if (column == 0)
            flow->y += 6.5;
    }
    if (column > 0)
        flow->y += 6.5;
}

static const char *left_out_name(const ks_plan *plan, const ks_left_out *left)
{
    bool known = left->piece >= 0 && left->piece < plan->order->n_pieces;
    const char *name = known ? plan->order->pieces[left->piece].name : NULL;
    return name && *name ? name : left->id;
}

static void waiting(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 4, 12},
                                        {KS_WORDS("Piece"), 17, 48},
                                        {KS_WORDS("Why it waits"), 67, 52},
                                        {KS_WORDS("What would let it in"), 121, 55}};
    const ks_plan *plan = flow->facts->plan;
    bool first = flow->facts->index == 0 || flow->sheets->options->load >= 0;
    if (plan->n_left_out == 0 || !first) /* once is enough for a plan of several loads */
        return;
    ks_flow_title(flow, ks_tr("What waits, and why"), 3 * KS_ROW);
    flow->y = ks_columns_headed(flow->scene, columns, 4, flow->y + 3);
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        const char *cells[] = {ks_arena_print(flow->sheets->arena, "%d ×", left->count),
                               left_out_name(plan, left),
                               ks_left_out_why(left, flow->sheets->arena),
                               ks_left_out_nearest(left, flow->sheets->arena)};
        ks_flow_row(flow, columns, 4, cells, KS_ROW);
    }
}

static void tell_hash(ks_flow *flow)
{
    ks_flow_title(flow, ks_tr("Same plan?"), 10);
    ks_flow_words(
        flow, KS_LOOK_TEXT, 0,
        ks_tr("Two people hold the same plan when these 64 signs agree; the first eight stand "
              "on every sheet."));
    ks_flow_words(flow, KS_LOOK_STRONG, 0, flow->sheets->hash);
}

void ks_cover_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    const char *title = facts->plan->order->title;
    const char *below =
        ks_say_join(sheets->arena, " · ", ks_say_day(facts->load->day, sheets->arena),
                    ks_arena_print(sheets->arena, "load %d of %d · %s", facts->index + 1,
                                   facts->plan->n_loads, facts->kiln));
    ks_flow flow = ks_flow_begin(
        sheets, facts,
        (ks_heading){"cover", title && *title ? title : ks_tr("Kiln load"), below, ks_tr("Cover")});
    figures(&flow);
    summary(&flow);
    ks_cover_furniture(&flow);
    owners(&flow);
    ks_cover_cautions(&flow);
    waiting(&flow);
    tell_hash(&flow);
}
