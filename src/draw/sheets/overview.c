#include "draw/sheets/overview.h"
#include "studio/late_ware.h"
#include "studio/left_out.h"
#include "studio/initials.h"

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

/* "14.2 lb (6.4 kg)" without what is in brackets. */
static const char *one_unit(const char *text, ks_arena *arena)
{
    return ks_arena_text_n(arena, text, strcspn(text, "("));
}

static void big_figure(ks_scene *scene, double x, const char *figure, const char *words)
{
    ks_scene_sized(scene, KS_LOOK_STRONG, (ks_point){x, KS_SHEET_TOP + 8}, KS_TITLE, figure, 39);
    ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x, KS_SHEET_TOP + 13.5}, KS_LEFT, KS_SMALL,
                    words, 41);
}

static void figures(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    double mass_kg = mass_of(facts);
    big_figure(flow->scene, KS_SHEET_LEFT, ks_arena_print(arena, "%d", facts->n_ware),
               ks_tr_count(facts->n_ware, "piece goes in", "pieces go in"));
    big_figure(flow->scene, 47, ks_arena_print(arena, "%d", facts->n_levels),
               ks_tr_count(facts->n_levels, "level", "levels"));
    big_figure(flow->scene, 90, end_words(facts, arena),
               facts->load->firing.atmosphere && *facts->load->firing.atmosphere
                   ? ks_tr(facts->load->firing.atmosphere)
                   : ks_tr("firing"));
    big_figure(flow->scene, 133,
               mass_kg > 0 ? one_unit(ks_say_mass(facts->display, mass_kg, arena), arena) : "–",
               ks_tr("of ware and setters"));
    flow->y = KS_SHEET_TOP + 16;
}

double ks_overview_title(ks_flow *flow, double x0, double x1, double y, const char *words)
{
    ks_scene_wrap(flow->scene, KS_LOOK_STRONG, (ks_point){x0, y + 5}, KS_PLAIN, x1 - x0, 1, 5,
                  words);
    return y + 7;
}

double ks_overview_line(ks_flow *flow, bool tick, double x0, double x1, double y, const char *words)
{
    const double pitch = 4, box = 3.2;
    double left = tick ? x0 + box + 2 : x0;
    if (tick)
        ks_scene_box(flow->scene, KS_LOOK_TICK, (ks_box){x0, y + 0.6, x0 + box, y + 0.6 + box});
    int lines = ks_scene_wrap(flow->scene, KS_LOOK_TEXT, (ks_point){left, y + 3.4}, KS_SMALL,
                              x1 - left, 6, pitch, words);
    return y + pitch * lines + 1.2;
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

/* "12", or with the name: "Ada Quill: 12". */
static const char *owner_count(const ks_flow *flow, const ks_owner *owner)
{
    const char *count = ks_arena_print(flow->sheets->arena, "%d", owner->pieces);
    return strcmp(owner->words, owner->mark) == 0
               ? count
               : ks_say_join(flow->sheets->arena, ": ", owner->words, count);
}

/* As many columns as the widest of them leaves room for. */
static int owner_columns(const ks_flow *flow)
{
    const double swatch_mm = 14.5, all = KS_SHEET_RIGHT - KS_SHEET_LEFT;
    double widest = all / 7;
    for (int i = 0; i < flow->facts->n_owners; i++) {
        const ks_owner *owner = &flow->facts->owners[i];
        if (owner->pieces > 0)
            widest = fmax(widest,
                          swatch_mm +
                              ks_scene_measure(flow->scene, KS_LOOK_STRONG, KS_SMALL, owner->mark) +
                              ks_scene_measure(flow->scene, KS_LOOK_TEXT, KS_SMALL,
                                               owner_count(flow, owner)));
    }
    return (int)fmax(1, floor(all / widest + 1e-9));
}

static void owners(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    if (facts->n_owners < 2)
        return;
    ks_flow_title(flow, ks_tr("Whose pieces"), KS_OVERVIEW_ROW);
    int column = 0, columns = owner_columns(flow);
    double width = (KS_SHEET_RIGHT - KS_SHEET_LEFT) / columns;
    for (int i = 0; i < facts->n_owners; i++) {
        const ks_owner *owner = &facts->owners[i];
        if (owner->pieces == 0)
            continue;
        if (column == 0)
            ks_flow_need(flow, 6.5);
        double x = KS_SHEET_LEFT + width * column, y = flow->y;
        swatch(flow->scene, (ks_box){x + 1, y + 1, x + 9, y + 5.6}, owner);
        double used = ks_scene_words(flow->scene, KS_LOOK_STRONG, (ks_point){x + 11, y + 4.6},
                                     KS_LEFT, KS_SMALL, owner->mark);
        ks_scene_fitted(flow->scene, KS_LOOK_TEXT, (ks_point){x + 12.5 + used, y + 4.6}, KS_LEFT,
                        KS_SMALL, owner_count(flow, owner), width - 14 - used);
        column = (column + 1) % columns;
        if (column == 0)
            flow->y += 6.5;
    }
    if (column > 0)
        flow->y += 6.5;
}

static const ks_piece *piece_of(const ks_plan *plan, const ks_left_out *left)
{
    bool known = left->piece >= 0 && left->piece < plan->order->n_pieces;
    return known ? &plan->order->pieces[left->piece] : NULL;
}

/* "espresso cup, RU". */
static const char *waiting_name(ks_flow *flow, const ks_left_out *left)
{
    const ks_piece *piece = piece_of(flow->facts->plan, left);
    const char *name = piece && piece->name && *piece->name ? piece->name : left->id;
    const char *owner = piece && piece->owner ? piece->owner : "";
    for (int i = 0; i < flow->facts->n_owners && flow->facts->n_owners > 1; i++)
        if (strcmp(flow->facts->owners[i].id, owner) == 0)
            return ks_say_join(flow->sheets->arena, ", ", name, flow->facts->owners[i].words);
    return *owner ? ks_say_join(
                        flow->sheets->arena, ", ", name,
                        ks_owner_initials(flow->facts->plan->order, owner, flow->sheets->arena))
                  : name;
}

/* What the plan tells of one kind that waits, worked out once. */
typedef struct {
    const char *name, *why, *nearest;
    int count;
} waiting_row;

/* What waits for one reason. */
typedef struct {
    const waiting_row *first;
    const char *names; /* "1 × desk tray, VE; 4 × tile, TO" */
    int count;
} waiting_group;

static waiting_row *rows_of(ks_flow *flow)
{
    const ks_plan *plan = flow->facts->plan;
    ks_arena *arena = flow->sheets->arena;
    waiting_row *rows = KS_TAKE(arena, plan->n_left_out, waiting_row);
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        rows[i] = (waiting_row){
            waiting_name(flow, left), ks_left_out_why(left, &plan->order->display, arena),
            ks_left_out_nearest(left, &plan->order->display, arena), left->count};
    }
    return rows;
}

static bool is_of_group(const waiting_row *first, const waiting_row *row)
{
    return strcmp(first->why, row->why) == 0 && strcmp(first->nearest, row->nearest) == 0;
}

static bool is_told(const waiting_row *rows, int nth, bool by_name)
{
    for (int i = 0; i < nth; i++)
        if (is_of_group(&rows[i], &rows[nth]) &&
            (!by_name || strcmp(rows[i].name, rows[nth].name) == 0))
            return true;
    return false;
}

/* All that waits for the reason of the nth, one name for entries that are alike. */
static waiting_group group_of(const waiting_row *rows, int n, int nth, ks_arena *arena)
{
    waiting_group group = {&rows[nth], "", 0};
    for (int i = nth; i < n; i++) {
        if (!is_of_group(group.first, &rows[i]) || is_told(rows, i, true))
            continue;
        int count = 0;
        for (int k = i; k < n; k++)
            if (is_of_group(group.first, &rows[k]) && strcmp(rows[i].name, rows[k].name) == 0)
                count += rows[k].count;
        group.count += count;
        group.names = ks_say_join(arena, "; ", group.names,
                                  ks_arena_print(arena, "%d × %s", count, rows[i].name));
    }
    return group;
}

static void paragraph(ks_flow *flow, ks_look look, const char *words)
{
    const double pitch = 3.9, width = KS_SHEET_RIGHT - KS_SHEET_LEFT;
    int lines = ks_scene_lines(flow->scene, look, KS_SMALL, width, words);
    ks_flow_need(flow, pitch * lines);
    ks_scene_wrap(flow->scene, look, (ks_point){KS_SHEET_LEFT, flow->y + 3.8}, KS_SMALL, width,
                  lines, pitch, words);
    flow->y += pitch * lines;
}

static void put_waiting(ks_flow *flow, const waiting_group *group)
{
    ks_arena *arena = flow->sheets->arena;
    ks_flow_need(flow, 12);
    bool one_kind = !strstr(group->names, "; ");
    const char *what =
        one_kind ? group->names : ks_say_count(group->count, "piece", "pieces", arena);
    paragraph(flow, KS_LOOK_STRONG, ks_arena_print(arena, "%s: %s", what, group->first->why));
    if (!one_kind)
        paragraph(flow, KS_LOOK_TEXT, group->names);
    if (*group->first->nearest)
        paragraph(flow, KS_LOOK_FAINT,
                  ks_arena_print(arena, "What would let it in: %s", group->first->nearest));
    flow->y += 1.4;
}

/* Once is enough for a plan of several loads. */
static bool is_first_told(const ks_flow *flow)
{
    return flow->facts->index == 0 || flow->sheets->options->load >= 0;
}

/* Dated ware whose load opens too late, of all loads on the first one's sheet. */
static void late(ks_flow *flow)
{
    const ks_plan *plan = flow->facts->plan;
    ks_arena *arena = flow->sheets->arena;
    ks_late_ware *list;
    int n = is_first_told(flow) ? ks_late_ware_find(plan, arena, &list) : 0;
    if (n > 0)
        ks_flow_title(flow, ks_tr("Late"), 3 * KS_ROW);
    for (int i = 0; i < n; i++)
        paragraph(flow, KS_LOOK_TEXT,
                  ks_arena_print(arena, "load %d: %s", list[i].load + 1,
                                 ks_late_ware_words(plan, &list[i], arena)));
}

static void waiting(ks_flow *flow)
{
    const ks_plan *plan = flow->facts->plan;
    if (plan->n_left_out == 0 || !is_first_told(flow))
        return;
    ks_flow_title(flow, ks_tr("What waits, and why"), 3 * KS_ROW);
    const waiting_row *rows = rows_of(flow);
    for (int i = 0; i < plan->n_left_out; i++) {
        if (is_told(rows, i, false))
            continue;
        waiting_group group = group_of(rows, plan->n_left_out, i, flow->sheets->arena);
        put_waiting(flow, &group);
    }
}

/* What the firing is to be like, as whoever draws the sheets has told it. */
static double firing_notes(ks_flow *flow, double x0, double x1, double y)
{
    const ks_draw_options *options = flow->sheets->options;
    int load = flow->facts->index;
    if (load >= options->n_notes || options->notes[load].n_lines == 0)
        return y;
    const ks_load_notes *notes = &options->notes[load];
    y = ks_overview_title(flow, x0, x1, y + 2, ks_tr("The firing"));
    for (int i = 0; i < notes->n_lines; i++)
        y = ks_overview_line(flow, false, x0, x1, y, notes->lines[i]);
    return y;
}

void ks_overview_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    const double parted = 107; /* the drawing from the furniture */
    const char *title = facts->plan->order->title;
    const char *below =
        ks_say_join(sheets->arena, " · ", ks_say_day(facts->load->day, sheets->arena),
                    ks_arena_print(sheets->arena, "load %d of %d · %s", facts->index + 1,
                                   facts->plan->n_loads, facts->kiln));
    ks_flow flow =
        ks_flow_begin_framed(sheets, facts,
                             (ks_heading){"overview", title && *title ? title : ks_tr("Kiln load"),
                                          below, ks_tr("Overview")},
                             KS_FRAME_TALL);
    figures(&flow);
    double left = ks_overview_side(&flow, KS_SHEET_LEFT, parted, flow.y);
    double right = ks_overview_furniture(&flow, parted + 3, KS_SHEET_RIGHT, flow.y);
    right = firing_notes(&flow, parted + 3, KS_SHEET_RIGHT, right);
    flow.y = fmax(left, right);
    owners(&flow);
    ks_overview_cautions(&flow);
    late(&flow);
    waiting(&flow);
}
