#include "draw/sheets/flow.h"
#include "studio/left_out.h"

#include <math.h>
#include <string.h>

static int pieces_on(const ks_level_facts *level, int owner)
{
    int n = 0;
    for (int i = 0; i < level->n_items; i++)
        n += level->items[i]->owner == owner;
    return n;
}

/* The first of its kind in the level: its line tells of all. */
static bool is_first_of(const ks_level_facts *level, int i)
{
    for (int k = 0; k < i; k++)
        if (ks_items_alike(level->items[k], level->items[i]))
            return false;
    return true;
}

static int alike_of(const ks_level_facts *level, const ks_item *item)
{
    int n = 0;
    for (int i = 0; i < level->n_items; i++)
        n += ks_items_alike(item, level->items[i]);
    return n;
}

enum { COLUMNS = 5 };
static const ks_column columns[COLUMNS] = {{KS_WORDS("Level"), 5, 24}, /* "7 right" */
                                           {KS_WORDS("No."), 31, 42},
                                           {KS_WORDS("Piece"), 75, 46},
                                           {KS_WORDS("Glaze"), 123, 31},
                                           {KS_WORDS("Height"), 156, 20}};

static void list_group(ks_flow *flow, const ks_level_facts *level, const ks_item *item)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    int n = alike_of(level, item);
    const char *marks = ks_alike_marks(level, item, arena);
    const char *cells[COLUMNS] = {
        "", "", n > 1 ? ks_arena_print(arena, "%s × %d", item->name, n) : item->name, item->glaze,
        ks_say_join(arena, " ", item->height,
                    ks_say_beside(facts->display, item->placed->top_mm, arena))};
    int lines = ks_cell_wrapped(flow->scene, &columns[1], KS_LOOK_STRONG, 0, 0, marks, false);
    double height = fmax(KS_ROW, ks_row_height(lines));
    ks_flow_need(flow, height);
    ks_scene_sized(flow->scene, KS_LOOK_NUMBER, (ks_point){5, flow->y + 7}, KS_LARGE,
                   level->bare_name, columns[0].width_mm);
    ks_cell_wrapped(flow->scene, &columns[1], KS_LOOK_STRONG, flow->y, 0, marks, true);
    ks_flow_row(flow, columns, COLUMNS, cells, height);
}

static void list_pieces(ks_flow *flow, int owner)
{
    const ks_facts *facts = flow->facts;
    flow->y = ks_columns_headed(flow->scene, columns, COLUMNS, flow->y + 3);
    for (int l = 0; l < facts->n_levels; l++)
        for (int i = 0; i < facts->levels[l].n_items; i++) {
            const ks_level_facts *level = &facts->levels[l];
            if (level->items[i]->owner == owner && is_first_of(level, i))
                list_group(flow, level, level->items[i]);
        }
}

/* One small plan with its surroundings, on paper. */
typedef struct {
    double width, height, under;
} small;

#define AROUND_MM 36.0 /* for its name and the numbers beside it */
#define LOWEST_MM 68.0
#define HIGHEST_MM 110.0

/* As large as lets all of theirs stand on this sheet, two in a row. */
static small small_of(const ks_flow *flow, int n_levels)
{
    const ks_facts *facts = flow->facts;
    int rows = (n_levels + 1) / 2;
    double w = facts->extent.x1 - facts->extent.x0, h = facts->extent.y1 - facts->extent.y0;
    double height = (ks_flow_bottom(flow) - flow->y) / rows - 2;
    small s = {85, fmin(fmax(height, LOWEST_MM), HIGHEST_MM), 0};
    s.under = fmax(w / (s.width - AROUND_MM), h / (s.height - AROUND_MM));
    s.under = ceil(10 * s.under) / 10;
    return s;
}

static void show_level(ks_flow *flow, const ks_level_facts *level, int owner, small s, double x)
{
    const ks_facts *facts = flow->facts;
    ks_box space = {x, flow->y + 6, x + s.width, flow->y + s.height};
    double scale = 1.0 / s.under;
    ks_view view = {{(space.x0 + space.x1) / 2 - (facts->extent.x0 + facts->extent.x1) / 2 * scale,
                     (space.y0 + space.y1) / 2 + (facts->extent.y0 + facts->extent.y1) / 2 * scale},
                    scale};
    ks_scene_fitted(flow->scene, KS_LOOK_STRONG, (ks_point){x, flow->y + 4}, KS_LEFT, KS_SMALL,
                    ks_arena_print(flow->sheets->arena, "%s, 1 : %.1f", level->name, s.under),
                    s.width);
    ks_level_shown shown = {facts,
                            1,
                            &level,
                            facts->owners[owner].id,
                            true,
                            INT_MAX,
                            {-INFINITY, -INFINITY, INFINITY, INFINITY}};
    int lost = ks_level_draw(flow->scene, &shown, view, space).lost;
    if (lost > 0)
        ks_scene_fitted(
            flow->scene, KS_LOOK_FAINT, (ks_point){x + s.width, flow->y + 4}, KS_RIGHT, KS_SMALL,
            ks_say_count(lost, "number has no room", "numbers have no room", flow->sheets->arena),
            s.width / 2);
}

static void show_levels(ks_flow *flow, int owner)
{
    int column = 0, n = 0;
    for (int i = 0; i < flow->facts->n_levels; i++)
        n += pieces_on(&flow->facts->levels[i], owner) > 0;
    small s = small_of(flow, n);
    for (int i = 0; i < flow->facts->n_levels; i++) {
        const ks_level_facts *level = &flow->facts->levels[i];
        if (pieces_on(level, owner) == 0)
            continue;
        if (column == 0)
            ks_flow_need(flow, s.height);
        show_level(flow, level, owner, s, KS_SHEET_LEFT + column * (s.width + 2));
        column = 1 - column;
        if (column == 0)
            flow->y += s.height + 2;
    }
}

static bool is_theirs(const ks_facts *facts, const ks_left_out *left, int owner)
{
    const ks_order *order = facts->plan->order;
    if (left->piece < 0 || left->piece >= order->n_pieces || !order->pieces[left->piece].owner)
        return false;
    return strcmp(order->pieces[left->piece].owner, facts->owners[owner].id) == 0;
}

static void list_waiting(ks_flow *flow, int owner)
{
    static const ks_column waiting[] = {{"", 5, 11}, {"", 17, 48}, {"", 67, 52}, {"", 121, 55}};
    const ks_plan *plan = flow->facts->plan;
    bool any = false;
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        if (!is_theirs(flow->facts, left, owner))
            continue;
        if (!any)
            ks_flow_title(flow, ks_tr("Still waiting"), KS_ROW);
        any = true;
        const char *name = plan->order->pieces[left->piece].name;
        const char *cells[] = {
            ks_arena_print(flow->sheets->arena, "%d ×", left->count), name ? name : left->id,
            ks_left_out_why(left, &plan->order->display, flow->sheets->arena),
            ks_left_out_nearest(left, &plan->order->display, flow->sheets->arena)};
        ks_flow_row(flow, waiting, 4, cells, KS_ROW);
    }
}

void ks_member_sheets(ks_sheets *sheets, const ks_facts *facts, int owner)
{
    const ks_owner *who = &facts->owners[owner];
    const char *title = ks_arena_print(sheets->arena, "%s: %s", who->words,
                                       ks_say_count(who->pieces, "piece", "pieces", sheets->arena));
    const char *below =
        ks_say_join(sheets->arena, " · ", ks_say_day(facts->load->day, sheets->arena), facts->kiln);
    ks_flow flow =
        ks_flow_begin(sheets, facts, (ks_heading){"member", title, below, ks_tr("Member's sheet")});
    if (who->pieces == 0) {
        ks_flow_words(&flow, KS_LOOK_TEXT, 0, ks_tr("Nothing of theirs is in this load."));
        list_waiting(&flow, owner);
        return;
    }
    list_pieces(&flow, owner);
    list_waiting(&flow, owner);
    flow.y += 4;
    show_levels(&flow, owner);
}
