#include "draw/sheets/level_sheet.h"

#include <limits.h>
#include <math.h>

static const ks_box everything = {-INFINITY, -INFINITY, INFINITY, INFINITY};

static const char key[] = KS_WORDS(
    "Black: posts on this shelf, with their height; faint: posts below it. Dashes: foot. Thin "
    "line: rim. Chain line: ware stays inside it. Cross-hatched: keep free. Under each number: %s"
    "the height there, %s.");

/* Where the drawing stands on the paper, and where the list. */
typedef struct {
    ks_frame frame;
    int columns; /* of the list */
    double beside;
    double under;
    ks_box drawing, list;
} layout;

static const double gap = 4; /* between drawing and list */

/* Parts of a column that a mark may take beside its words: few long marks would leave all words
 * too little. */
#define MOST_BESIDE 0.5
#define FEW_BESIDE 0.22

/* The scale at which the chamber fits, to a tenth; never larger than life. */
static double under_of(const ks_facts *facts, double width, double height)
{
    double w = facts->extent.x1 - facts->extent.x0, h = facts->extent.y1 - facts->extent.y0;
    double under =
        fmax(w / (width - KS_LEVEL_AROUND), h / (height - KS_LEVEL_ABOVE - KS_LEVEL_BELOW));
    return width <= KS_LEVEL_AROUND || height <= KS_LEVEL_ABOVE + KS_LEVEL_BELOW
               ? INFINITY
               : fmax(1, ceil(10 * under - 1e-9) / 10);
}

static double drawn_height(const ks_facts *facts, double under)
{
    return (facts->extent.y1 - facts->extent.y0) / under + KS_LEVEL_ABOVE + KS_LEVEL_BELOW;
}

/* The list under the drawing, over the whole width. */
static layout list_below(const ks_facts *facts, const ks_level_list *list, ks_frame frame,
                         int columns)
{
    ks_box room = ks_sheet_room(frame);
    double width = room.x1 - room.x0, height = room.y1 - room.y0;
    double taken = ks_level_list_height(list, columns, width, height);
    layout l = {frame, columns, list->beside, under_of(facts, width, height - taken - gap),
                room,  room};
    l.drawing.y1 = room.y0 + drawn_height(facts, l.under);
    l.list.y0 = l.drawing.y1 + gap;
    return l;
}

/* The list to the right of the drawing, `width` wide. */
static layout list_beside(const ks_facts *facts, const ks_level_list *list, double width)
{
    ks_box room = ks_sheet_room(KS_FRAME_WIDE);
    double height = room.y1 - room.y0;
    bool fits = isfinite(ks_level_list_height(list, 1, width, height));
    layout l = {KS_FRAME_WIDE, 1, list->beside, INFINITY, room, room};
    l.list.x0 = room.x1 - width;
    l.drawing.x1 = l.list.x0 - gap;
    if (fits)
        l.under = under_of(facts, l.drawing.x1 - l.drawing.x0, height);
    return l;
}

/* A drawing as large as it can be, with the list on further sheets: for a level whose list leaves
 * it too little room. */
static layout drawing_first(const ks_facts *facts)
{
    const double list_mm = 60;
    ks_box room = ks_sheet_room(KS_FRAME_TALL);
    layout l = {
        KS_FRAME_TALL, 2,
        FEW_BESIDE,    under_of(facts, room.x1 - room.x0, room.y1 - room.y0 - list_mm - gap),
        room,          room};
    l.drawing.y1 = room.y0 + drawn_height(facts, l.under);
    l.list.y0 = l.drawing.y1 + gap;
    return l;
}

/* Of all ways to lay out the sheet, the one with the largest drawing. */
static layout best_layout(const ks_facts *facts, const ks_level_list *list)
{
    enum { WAYS = 9 };
    layout found[WAYS] = {list_below(facts, list, KS_FRAME_TALL, 1),
                          list_below(facts, list, KS_FRAME_TALL, 2),
                          list_below(facts, list, KS_FRAME_TALL, 3),
                          list_beside(facts, list, 70),
                          list_beside(facts, list, 85),
                          list_beside(facts, list, 100),
                          list_beside(facts, list, 120),
                          list_below(facts, list, KS_FRAME_WIDE, 2),
                          list_below(facts, list, KS_FRAME_WIDE, 3)};
    int best = 0;
    for (int i = 1; i < WAYS; i++)
        if (found[i].under < found[best].under)
            best = i;
    return found[best];
}

static ks_view view_of(const ks_facts *facts, const layout *l)
{
    double scale = 1.0 / l->under, middle = (l->drawing.x0 + l->drawing.x1) / 2;
    return (ks_view){{middle - (facts->extent.x0 + facts->extent.x1) / 2 * scale,
                      l->drawing.y0 + KS_LEVEL_ABOVE + facts->extent.y1 * scale},
                     scale};
}

/* "27 pieces, 1 cone pack · 152 mm clear above the shelf". */
static const char *summary_of(const ks_facts *facts, const ks_tier_facts *tier, ks_arena *arena)
{
    const char *words = "";
    for (int i = 0; i < tier->n_levels; i++) {
        const ks_level_facts *level = tier->levels[i];
        const char *one =
            ks_arena_print(arena, "%s · %s clear above it", ks_contents_words(level, arena),
                           ks_say_both(facts->display, level->level->gap_mm, arena));
        if (tier->n_levels > 1)
            one = ks_arena_print(arena, "%s: %s", level->bare_name, one);
        words = ks_say_join(arena, "; ", words, one);
    }
    return words;
}

static ks_heading heading_of(ks_sheets *sheets, const ks_facts *facts, const ks_tier_facts *tier)
{
    return (ks_heading){tier->file_name, tier->name, summary_of(facts, tier, sheets->arena),
                        ks_arena_print(sheets->arena, "Plan of %s", tier->levels[0]->code)};
}

void ks_level_lost(ks_sheets *sheets, const ks_level_facts *level, int lost)
{
    const char *count = ks_say_count(lost, "number", "numbers", sheets->arena);
    ks_sheets_warn(sheets,
                   ks_arena_print(sheets->arena,
                                  "%s: %s found no place on the drawing; the list has them all",
                                  level->name, count));
}

/* The tier's drawing; true when numbers need larger drawings of its parts, which are then left to
 * tell them. */
static bool draw_tier(ks_scene *scene, const ks_facts *facts, const ks_tier_facts *tier,
                      const layout *l)
{
    ks_level_shown shown = {facts, tier->n_levels,  tier->levels, NULL,
                            false, KS_MOST_LEADERS, everything};
    shown.leaders = l->under > 1 ? KS_MOST_LEADERS : INT_MAX;
    int before = scene->n;
    ks_view view = view_of(facts, l);
    if (ks_level_draw(scene, &shown, view, l->drawing).lost == 0)
        return false;
    scene->n = before;
    shown.leaders = 0;
    (void)ks_level_draw(scene, &shown, view, l->drawing);
    return true;
}

#define ROOMY_MM 110.0 /* of a drawing's larger side: numbers find places */
#define LEAST_MM 80.0  /* as long as they do, one sheet is worth a smaller drawing */

/* All on one sheet, or where the drawing would be too small for its numbers, the list on further
 * ones. */
static layout layout_of(ks_sheets *sheets, const ks_facts *facts, const ks_tier_facts *tier,
                        ks_level_list *list)
{
    layout one = best_layout(facts, list), more = drawing_first(facts);
    list->beside = FEW_BESIDE;
    layout few = best_layout(facts, list);
    one = few.under < one.under ? few : one;
    double side = fmax(facts->extent.x1 - facts->extent.x0, facts->extent.y1 - facts->extent.y0);
    if (side / one.under >= fmin(ROOMY_MM, side / more.under))
        return one;
    ks_scene *tried =
        ks_scene_create(sheets->arena, sheets->type, KS_FRAME_HEIGHT, KS_FRAME_HEIGHT);
    bool serves = side / one.under >= LEAST_MM && !draw_tier(tried, facts, tier, &one);
    return serves ? one : more;
}

/* What the list says before it is known where it stands: on a scene of its own. */
static ks_level_list list_of(ks_sheets *sheets, const ks_facts *facts, const ks_tier_facts *tier)
{
    ks_level_list list = {
        .scene = ks_scene_create(sheets->arena, sheets->type, KS_FRAME_WIDTH, KS_FRAME_HEIGHT),
        .inches = ks_say_inches(facts->display),
        .beside = MOST_BESIDE,
        .key = ks_arena_print(sheets->arena, key,
                              facts->n_owners > 1 ? ks_tr("whose it is, and ") : "",
                              ks_say_unit(facts->display))};
    list.lines = ks_level_lines(facts, tier, &list.n, sheets->arena);
    double *marks_mm = KS_TAKE(sheets->arena, list.n, double);
    for (int i = 0; i < list.n; i++)
        marks_mm[i] = ks_scene_measure(list.scene, KS_LOOK_NUMBER, KS_SMALL, list.lines[i].mark);
    list.marks_mm = marks_mm;
    return list;
}

/* What found no room under the drawing. */
static void list_further(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                         ks_frame frame, ks_level_list *list, int next)
{
    const char *name = heading.name, *title = heading.title;
    for (int page = 2; next <= list->n; page++) {
        heading.name = ks_arena_print(sheets->arena, "%s-list-%d", name, page);
        heading.title = ks_arena_print(sheets->arena, "%s, continued", title);
        list->scene = ks_sheet_begin_framed(sheets, facts, heading, frame);
        next = ks_level_list_draw(list, next, 2, ks_sheet_room(frame));
    }
}

static void tier_sheets(ks_sheets *sheets, const ks_facts *facts, const ks_tier_facts *tier)
{
    ks_level_list list = list_of(sheets, facts, tier);
    layout l = layout_of(sheets, facts, tier, &list);
    ks_heading heading = heading_of(sheets, facts, tier);
    ks_scene *scene = ks_sheet_begin_framed(sheets, facts, heading, l.frame);
    list.scene = scene;
    list.under = l.under;
    list.beside = l.beside;
    bool larger = draw_tier(scene, facts, tier, &l);
    if (larger)
        list.key = ks_arena_print(sheets->arena,
                                  "Pieces without a number here have theirs on the larger drawings "
                                  "that follow. %s",
                                  list.key);
    int next = ks_level_list_draw(&list, 0, l.columns, l.list);
    list_further(sheets, facts, heading, l.frame, &list, next);
    for (int i = 0; larger && i < tier->n_levels; i++)
        ks_level_larger(sheets, facts, tier->levels[i], (int)ceil(l.under));
}

void ks_level_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    for (int i = 0; i < facts->n_tiers; i++)
        tier_sheets(sheets, facts, &facts->tiers[i]);
}
