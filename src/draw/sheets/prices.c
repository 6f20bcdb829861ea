/* What is pinned up in a shop: the price list, and under it a tag for each piece to cut out. */
#include "base/language.h"
#include "draw/sheets/flow.h"

#define ROW_MM 6.4
#define TAG_WIDTH_MM 42.0
#define TAG_HEIGHT_MM 24.2
#define TAG_APART_MM 1.3
#define TAG_INSET_MM 2.0

enum { TAGS_IN_A_ROW = 4 };

static const ks_column columns[] = {
    {KS_WORDS("Piece"), KS_SHEET_LEFT, 40},       {KS_WORDS("Owner"), KS_SHEET_LEFT + 42, 16},
    {KS_WORDS("Size"), KS_SHEET_LEFT + 58, 46},   {KS_WORDS("Pieces"), KS_SHEET_LEFT + 106, 14},
    {KS_WORDS("Price"), KS_SHEET_LEFT + 122, 24}, {KS_WORDS("Wholesale"), KS_SHEET_LEFT + 148, 24}};
enum { COLUMNS = sizeof columns / sizeof *columns };

static void put_list(ks_flow *flow, const ks_price_list *list)
{
    ks_arena *arena = flow->sheets->arena;
    flow->y = ks_columns_headed(flow->scene, columns, COLUMNS, flow->y + 5);
    for (int i = 0; i < list->n; i++) {
        const ks_price_row *row = &list->rows[i];
        const char *cells[COLUMNS] = {row->name,
                                      row->owner,
                                      row->size,
                                      ks_arena_print(arena, "%d", row->copies),
                                      row->price ? row->price : "-",
                                      row->wholesale ? row->wholesale : "-"};
        const ks_scene *page = flow->scene;
        ks_flow_need(flow, 2 * ROW_MM); /* a long name takes two lines */
        if (flow->scene != page)
            flow->y = ks_columns_headed(flow->scene, columns, COLUMNS, flow->y + 5);
        ks_flow_row(flow, columns, COLUMNS, cells, ROW_MM);
    }
    flow->y += 2;
    if (*list->note)
        ks_flow_words(flow, KS_LOOK_TEXT, 0, list->note);
}

/* One height for all prices: the largest at which the widest has room. */
static double price_cap_mm(ks_scene *scene, const ks_price_list *list, double within_mm)
{
    for (int i = 0; i < list->n; i++)
        if (list->rows[i].price &&
            ks_scene_measure(scene, KS_LOOK_STRONG, KS_LARGE, list->rows[i].price) > within_mm)
            return KS_PLAIN;
    return KS_LARGE;
}

/* Cut along its edge: what it is, what it costs, whose it is. */
static void put_tag(ks_flow *flow, const ks_price_list *list, const ks_price_row *row, int column,
                    double cap_mm)
{
    const double inset = TAG_INSET_MM, within = TAG_WIDTH_MM - 2 * inset;
    double x = KS_SHEET_LEFT + column * (TAG_WIDTH_MM + TAG_APART_MM), y = flow->y;
    ks_scene *scene = flow->scene;
    ks_scene_box(scene, KS_LOOK_RULE, (ks_box){x, y, x + TAG_WIDTH_MM, y + TAG_HEIGHT_MM});
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){x + inset, y + 5}, KS_SMALL, within, 2, 3.8,
                  ks_say_join(flow->sheets->arena, ", ", row->name, row->owner));
    ks_scene_sized(scene, KS_LOOK_STRONG, (ks_point){x + inset, y + 16}, cap_mm, row->price,
                   within);
    ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x + inset, y + 21.6}, KS_LEFT, KS_SMALL,
                    list->studio, within);
}

static void put_tags(ks_flow *flow, const ks_price_list *list)
{
    double cap_mm = price_cap_mm(flow->scene, list, TAG_WIDTH_MM - 2 * TAG_INSET_MM);
    int n = 0;
    for (int i = 0; i < list->n; i++)
        for (int c = 0; c < list->rows[i].copies && list->rows[i].price; c++, n++) {
            int column = n % TAGS_IN_A_ROW;
            if (n == 0)
                ks_flow_title(flow, ks_tr("Tags to cut out"), TAG_HEIGHT_MM);
            if (column == 0 && n > 0)
                flow->y += TAG_HEIGHT_MM + TAG_APART_MM;
            if (column == 0)
                ks_flow_need(flow, TAG_HEIGHT_MM);
            put_tag(flow, list, &list->rows[i], column, cap_mm);
        }
}

void ks_price_sheets(ks_sheets *sheets, const ks_price_list *list)
{
    ks_heading heading = {"prices", ks_tr("Price list"), list->below, ks_tr("Prices")};
    ks_flow flow = ks_flow_begin(sheets, NULL, heading);
    put_list(&flow, list);
    put_tags(&flow, list);
}
