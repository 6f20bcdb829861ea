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

static void list_pieces(ks_flow *flow, int owner)
{
    static const ks_column columns[] = {{KS_WORDS("No."), 5, 26}, /* "7 right · 17" */
                                        {KS_WORDS("Piece"), 33, 44},
                                        {KS_WORDS("Glaze"), 79, 30},
                                        {KS_WORDS("Height"), 111, 20},
                                        {KS_WORDS("Where"), 133, 43}};
    const ks_facts *facts = flow->facts;
    flow->y = ks_columns_headed(flow->scene, columns, 5, flow->y + 3);
    for (int i = 0; i < facts->n_items; i++) {
        const ks_item *item = &facts->items[i];
        if (item->owner != owner)
            continue;
        ks_flow_need(flow, KS_ROW);
        ks_scene_sized(flow->scene, KS_LOOK_NUMBER, (ks_point){5, flow->y + 7}, KS_LARGE,
                       item->full_mark, columns[0].width_mm);
        const char *cells[] = {
            "", item->name, item->glaze,
            ks_say_join(flow->sheets->arena, " ", item->height,
                        ks_say_beside(facts->display, item->placed->top_mm, flow->sheets->arena)),
            item->where};
        ks_flow_row(flow, columns, 5, cells, KS_ROW);
    }
}

typedef struct {
    double width, height; /* of one small plan with its surroundings, on paper */
    int under;
} small;

static small small_of(const ks_facts *facts)
{
    double w = facts->extent.x1 - facts->extent.x0, h = facts->extent.y1 - facts->extent.y0;
    small s = {85, 0, ks_scale_under(w, h, 64, 80)};
    s.height = h / s.under + 40;
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
                    ks_arena_print(flow->sheets->arena, "%s, 1 : %d", level->name, s.under),
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
    small s = small_of(flow->facts);
    int column = 0;
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
    static const ks_column columns[] = {{"", 5, 11}, {"", 17, 48}, {"", 67, 52}, {"", 121, 55}};
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
        ks_flow_row(flow, columns, 4, cells, KS_ROW);
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
