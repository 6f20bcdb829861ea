#include "draw/sheets/level_sheet.h"

#define LIST_PITCH 4.7
#define HALF_COLUMN 86.0

static const char *owner_of(const ks_facts *facts, const ks_item *item, ks_arena *arena)
{
    if (item->owner < 0)
        return "";
    const ks_owner *owner = &facts->owners[item->owner];
    return facts->n_owners > 1 ? ks_arena_print(arena, "%s %s", owner->letter, owner->words)
                               : owner->words;
}

static void short_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double x,
                      double y)
{
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){x + 7.5, y}, KS_RIGHT, KS_SMALL, item->mark);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 9.5, y}, KS_LEFT, KS_SMALL, item->name, 38);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 49, y}, KS_LEFT, KS_SMALL,
                    owner_of(facts, item, scene->arena), 17);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 84, y}, KS_RIGHT, KS_SMALL, item->height,
                    17);
}

static void long_row(ks_scene *scene, const ks_facts *facts, const ks_item *item, double x,
                     double y)
{
    ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){x + 7.5, y}, KS_RIGHT, KS_SMALL, item->mark);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 9.5, y}, KS_LEFT, KS_SMALL, item->name, 46);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 57, y}, KS_LEFT, KS_SMALL,
                    owner_of(facts, item, scene->arena), 21);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 101, y}, KS_RIGHT, KS_SMALL, item->height,
                    22);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x + 104, y}, KS_LEFT, KS_SMALL, item->where,
                    68);
}

/* The level's list from y to the bottom: one column with places where all fit, else two without;
 * false, and nothing drawn, where there is no room for either. */
bool ks_level_list(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level, double y)
{
    int rows = (int)((KS_SHEET_BOTTOM - y) / LIST_PITCH), n = level->n_items;
    bool one = n <= rows;
    int each = one ? n : (n + 1) / 2;
    if (each > rows)
        return false;
    for (int i = 0; i < n; i++)
        (one ? long_row : short_row)(scene, facts, level->items[i],
                                     KS_SHEET_LEFT + HALF_COLUMN * (i / each),
                                     y + LIST_PITCH * (i % each) + 3.6);
    return true;
}

/* The lists that found no room beside their drawings. */
void ks_level_lists(ks_sheets *sheets, const ks_facts *facts, const bool *listed)
{
    ks_flow flow = {0};
    for (int l = 0; l < facts->n_levels; l++) {
        if (listed[l])
            continue;
        if (!flow.scene)
            flow = ks_flow_begin(
                sheets, facts,
                (ks_heading){
                    "pieces", ks_tr("Pieces, level by level"),
                    ks_tr("In the order in which they go in; the numbers are those of the plans."),
                    ks_tr("Pieces by level")});
        ks_flow_title(&flow, facts->levels[l].name, 3 * LIST_PITCH);
        for (int i = 0; i < facts->levels[l].n_items; i++) {
            ks_flow_need(&flow, LIST_PITCH);
            long_row(flow.scene, facts, facts->levels[l].items[i], KS_SHEET_LEFT, flow.y + 3.6);
            flow.y += LIST_PITCH;
        }
    }
}
