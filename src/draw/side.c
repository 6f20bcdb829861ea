#include "draw/label.h"
#include "draw/sheets.h"

#include <math.h>
#include <string.h>

/* The load seen from the front; or, for bays one behind another, from the right, with the
 * operator's side at the left. */
typedef struct {
    ks_scene *scene;
    const ks_facts *facts;
    bool from_right;      /* bays stand front and back */
    double scale, x0, y0; /* paper mm: of the chamber's left edge and of its floor */
    double least;         /* chamber mm at x0 */
} side;

typedef struct {
    double from, to;
} span;

static span span_of(const side *s, const ks_outline *shape)
{
    ks_box box = ks_extent(shape);
    return s->from_right ? (span){box.y0, box.y1} : (span){box.x0, box.x1};
}

static ks_box box_of(const side *s, span across, double from_mm, double to_mm)
{
    return (ks_box){s->x0 + (across.from - s->least) * s->scale, s->y0 - to_mm * s->scale,
                    s->x0 + (across.to - s->least) * s->scale, s->y0 - from_mm * s->scale};
}

static bool bays_behind(const ks_load *load)
{
    if (load->n_bays < 2)
        return false;
    ks_box a = ks_extent(&load->bays[0].outline), b = ks_extent(&load->bays[1].outline);
    return fabs(a.y0 + a.y1 - b.y0 - b.y1) > fabs(a.x0 + a.x1 - b.x0 - b.x1);
}

static void filled_box(ks_scene *scene, ks_look look, ks_box box, int fill)
{
    ks_path path = {0};
    ks_path_move(scene->arena, &path, (ks_point){box.x0, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y1});
    ks_path_line(scene->arena, &path, (ks_point){box.x0, box.y1});
    ks_path_close(scene->arena, &path);
    ks_scene_filled(scene, look, path, fill);
}

static void piece_drawn(const side *s, const ks_level *level, const ks_item *item)
{
    const ks_placed *placed = item->placed;
    int fill = item->owner >= 0 ? s->facts->owners[item->owner].fill : 1;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < placed->n_parts; i++) {
            const ks_part *part = &placed->parts[i];
            ks_box box = box_of(s, span_of(s, &part->outline), level->z_mm + part->from_mm,
                                level->z_mm + part->to_mm);
            if (pass == 0)
                ks_scene_box(s->scene, KS_LOOK_BODY_EDGE, box);
            else
                filled_box(s->scene, part->kind == KS_PART_GROG ? KS_LOOK_DOT : KS_LOOK_BODY, box,
                           part->kind == KS_PART_GROG ? 0 : fill);
        }
}

static double depth_of(const side *s, const ks_placed *placed)
{
    ks_point at = ks_item_centre(placed);
    return s->from_right ? -at.x : at.y;
}

/* From far to near, so that what is in front covers what is behind. */
static const ks_item **far_to_near(const side *s, const ks_level_facts *level)
{
    const ks_item **items = KS_TAKE(s->scene->arena, level->n_items, const ks_item *);
    for (int i = 0; i < level->n_items; i++) {
        int at = i;
        for (; at > 0 && depth_of(s, items[at - 1]->placed) < depth_of(s, level->items[i]->placed);
             at--)
            items[at] = items[at - 1];
        items[at] = level->items[i];
    }
    return items;
}

static void pieces_drawn(const side *s, const ks_level_facts *level)
{
    const ks_item **items = far_to_near(s, level);
    for (int i = 0; i < level->n_items; i++)
        piece_drawn(s, level->level, items[i]);
}

static ks_polygon corners(const side *s, ks_box box)
{
    ks_polygon shape = {4, KS_TAKE(s->scene->arena, 4, ks_point)};
    shape.at[0] = (ks_point){box.x0, box.y0};
    shape.at[1] = (ks_point){box.x1, box.y0};
    shape.at[2] = (ks_point){box.x1, box.y1};
    shape.at[3] = (ks_point){box.x0, box.y1};
    return shape;
}

/* The pieces' numbers, where they can be read: within a piece and clear of what stands before it.
 */
static void numbers_drawn(const side *s)
{
    const ks_facts *facts = s->facts;
    ks_label_field field = {.scene = s->scene, .space = {0, 0, KS_FRAME_WIDTH, KS_FRAME_HEIGHT}};
    for (int i = 0; i < facts->load->n_posts; i++) {
        const ks_post *post = &facts->load->posts[i];
        ks_block_add(&field,
                     corners(s, box_of(s, span_of(s, &post->outline), post->from_mm, post->to_mm)),
                     -1, false);
    }
    for (int l = 0; l < facts->n_levels; l++) {
        int n = facts->levels[l].n_items;
        const ks_item **items = far_to_near(s, &facts->levels[l]);
        while (n-- > 0) { /* near ones first: they block what is behind */
            const ks_placed *placed = items[n]->placed;
            double most = -1;
            ks_label label = {.text = {items[n]->mark, NULL},
                              .cap_mm = {KS_LARGE, 0},
                              .look = {KS_LOOK_NUMBER, KS_LOOK_NUMBER},
                              .thing = (int)(items[n] - facts->items)};
            for (int i = 0; i < placed->n_parts; i++) {
                const ks_part *part = &placed->parts[i];
                double z = facts->levels[l].level->z_mm;
                ks_box box =
                    box_of(s, span_of(s, &part->outline), z + part->from_mm, z + part->to_mm);
                ks_block_add(&field, corners(s, box), label.thing, part->kind == KS_PART_BODY);
                if (part->kind == KS_PART_BODY && (box.x1 - box.x0) * (box.y1 - box.y0) > most) {
                    most = (box.x1 - box.x0) * (box.y1 - box.y0);
                    label.anchor = (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
                }
            }
            if (ks_label_inside(&field, &label))
                ks_label_drawn(&field, &label, -1);
        }
    }
}

/* Rings in the wall where the zones of the elements are. */
static void elements_drawn(const side *s, ks_box chamber)
{
    const ks_load *load = s->facts->load;
    bool known = load->kiln >= 0 && load->kiln < s->facts->plan->order->n_kilns;
    const ks_heat *heat = known ? &s->facts->plan->order->kilns[load->kiln].heat : NULL;
    const double pitch = 5, r = 0.8;
    if (!heat || heat->kind != KS_ELECTRIC)
        return;
    for (int i = 0; i < heat->n_zones; i++) {
        double low = s->y0 - heat->zones[i].from_mm * s->scale,
               high = s->y0 - heat->zones[i].to_mm * s->scale;
        int n = (int)fmin(60, fmax(1, floor((low - high) / pitch)));
        for (int k = 0; k < n; k++) {
            double y = high + (k + 0.5) * (low - high) / n;
            ks_scene_disc(s->scene, KS_LOOK_BLANK, (ks_point){chamber.x0 - 1.4, y}, r);
            ks_scene_disc(s->scene, KS_LOOK_BLANK, (ks_point){chamber.x1 + 1.4, y}, r);
        }
    }
}

/* Drawn twice, lines and then insides, so that an arch made of slices shows its outline alone. */
static void chamber_drawn(const side *s)
{
    const ks_load *load = s->facts->load;
    const double wall = 4;
    ks_box all = s->facts->extent;
    span across = s->from_right ? (span){all.y0, all.y1} : (span){all.x0, all.x1};
    ks_box chamber = box_of(s, across, 0, load->height_mm);
    ks_scene_box(
        s->scene, KS_LOOK_WALL,
        (ks_box){chamber.x0 - wall, chamber.y0 - wall, chamber.x1 + wall, chamber.y1 + wall});
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < load->n_parts; i++) {
            const ks_chamber_part *part = &load->parts[i];
            ks_box box = box_of(s, span_of(s, &part->outline), part->from_mm,
                                fmin(part->to_mm, load->height_mm));
            ks_scene_box(s->scene, pass == 0 ? KS_LOOK_CHAMBER : KS_LOOK_BODY, box);
        }
    elements_drawn(s, chamber);
}

static void furniture_drawn(const side *s)
{
    const ks_load *load = s->facts->load;
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_shelves; k++) {
            const ks_shelf *shelf = &load->levels[i].shelves[k];
            ks_scene_box(s->scene, KS_LOOK_SHELF,
                         box_of(s, span_of(s, &shelf->outline),
                                load->levels[i].z_mm - shelf->thickness_mm, load->levels[i].z_mm));
        }
    for (int i = 0; i < load->n_posts; i++)
        ks_scene_box(s->scene, KS_LOOK_POST,
                     box_of(s, span_of(s, &load->posts[i].outline), load->posts[i].from_mm,
                            load->posts[i].to_mm));
    for (int i = 0; i < load->n_keep_outs; i++)
        ks_scene_box(s->scene, KS_LOOK_KEEP_OUT,
                     box_of(s, span_of(s, &load->keep_outs[i].outline), load->keep_outs[i].from_mm,
                            load->keep_outs[i].to_mm));
}

typedef struct {
    double y; /* where it belongs, and then where it stands */
    double at;
    bool strong;
    const char *words;
} height_mark;

/* Moves marks, sorted from below, apart by `pitch` within top and bottom; false if they cannot be.
 */
static bool spread(height_mark *marks, int n, double pitch, double top, double bottom)
{
    if ((n - 1) * pitch > bottom - top)
        return false;
    double below = bottom + pitch;
    for (int i = 0; i < n; i++) {
        marks[i].at = fmin(marks[i].y, below - pitch);
        below = marks[i].at;
    }
    double above = top - pitch;
    for (int i = n - 1; i >= 0 && marks[i].at < above + pitch; i--) {
        marks[i].at = above + pitch;
        above = marks[i].at;
    }
    return true;
}

static const char *height_words(const ks_facts *facts, double z_mm, const char *what,
                                ks_arena *arena)
{
    return ks_arena_print(arena, "%s  %s", ks_say_bare(facts->display, z_mm, arena), what);
}

/* Levels of several bays at one height have one mark, without the bay's name. */
static int marks_of(const side *s, bool with_gaps, height_mark *marks)
{
    const ks_facts *facts = s->facts;
    ks_arena *arena = s->scene->arena;
    int n = 0;
    marks[n++] = (height_mark){s->y0, 0, false, "0  floor"};
    for (int i = 0; i < facts->n_levels; i++) {
        const ks_level *level = facts->levels[i].level;
        double y = s->y0 - level->z_mm * s->scale;
        bool same = i > 0 && fabs(facts->levels[i - 1].level->z_mm - level->z_mm) < 0.5;
        const char *code = same ? facts->levels[i].short_code : facts->levels[i].code;
        n -= same;
        marks[n++] = (height_mark){y, 0, true, height_words(facts, level->z_mm, code, arena)};
        if (with_gaps)
            marks[n++] = (height_mark){
                y - level->gap_mm / 2 * s->scale, 0, false,
                ks_arena_print(arena, "  ↕ %s", ks_say_bare(facts->display, level->gap_mm, arena))};
    }
    double lid = facts->load->height_mm;
    marks[n++] = (height_mark){s->y0 - lid * s->scale, 0, false,
                               height_words(facts, lid, facts->from_front ? "roof" : "lid", arena)};
    return n;
}

/* Running heights at the right, with the clear gaps between where there is one column and room. */
static void heights_drawn(const side *s, double right)
{
    const double pitch = 4.2, top = KS_SHEET_TOP + 3, bottom = s->y0 + 6;
    height_mark *marks = KS_TAKE(s->scene->arena, 2 * s->facts->n_levels + 2, height_mark);
    int n = marks_of(s, s->facts->load->n_bays < 2, marks);
    if (!spread(marks, n, pitch, top, bottom)) {
        n = marks_of(s, false, marks);
        if (!spread(marks, n, pitch, top, bottom))
            return; /* the table below has them */
    }
    for (int i = 0; i < n; i++) {
        ks_point from = {right + 5, marks[i].y}, to = {right + 9, marks[i].at};
        ks_scene_line(s->scene, KS_LOOK_LEADER, from, to);
        ks_scene_fitted(s->scene, marks[i].strong ? KS_LOOK_STRONG : KS_LOOK_TEXT,
                        (ks_point){right + 10, marks[i].at + 1.2}, KS_LEFT, KS_SMALL,
                        marks[i].words, KS_SHEET_RIGHT - right - 10);
    }
}

static const ks_column columns[] = {{"Level", 4, 26},        {"Shelf top", 31, 26},
                                    {"Posts on it", 58, 52}, {"Clear above", 111, 24},
                                    {"Tallest", 136, 24},    {"Free", 161, 15}};
enum { COLUMNS = sizeof columns / sizeof columns[0] };

static void table_row(ks_scene *scene, const ks_facts *facts, const ks_level_facts *level, double y)
{
    ks_arena *arena = scene->arena;
    const ks_display *display = facts->display;
    const char *tallest =
        level->tallest ? ks_arena_print(arena, "%s: %s", level->tallest->mark,
                                        ks_say_bare(display, level->tallest->placed->top_mm, arena))
                       : "";
    const char *cells[COLUMNS] = {level->code,
                                  ks_say_bare_both(display, level->level->z_mm, arena),
                                  *level->posts ? level->posts : "–",
                                  ks_say_bare_both(display, level->level->gap_mm, arena),
                                  tallest,
                                  ks_say_bare(display, level->free_mm, arena)};
    for (int i = 0; i < COLUMNS; i++)
        ks_cell(scene, &columns[i], i == 0 ? KS_LOOK_STRONG : KS_LOOK_TEXT, y, 0, cells[i]);
}

static side side_of(ks_scene *scene, const ks_facts *facts, double y, double room, int *under)
{
    side s = {.scene = scene, .facts = facts, .from_right = bays_behind(facts->load)};
    ks_box all = facts->extent;
    double width = s.from_right ? all.y1 - all.y0 : all.x1 - all.x0,
           height = facts->load->height_mm;
    s.least = s.from_right ? all.y0 : all.x0;
    *under = ks_scale_under(width, height, 142, room - 16);
    s.scale = 1.0 / *under;
    s.x0 = KS_SHEET_LEFT + 4 + fmax(0, (128 - width * s.scale) / 2);
    s.y0 = y + 5 + height * s.scale;
    return s;
}

static void sides_named(const side *s, double right)
{
    double y = s->y0 + 8.5;
    if (s->from_right) {
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){s->x0, y}, KS_LEFT, KS_SMALL, "FRONT");
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){right, y}, KS_RIGHT, KS_SMALL, "BACK");
    } else {
        ks_scene_words(s->scene, KS_LOOK_STRONG, (ks_point){(s->x0 + right) / 2, y}, KS_MIDDLE,
                       KS_SMALL, "seen from the FRONT");
    }
}

/* Room that the drawing may take, largest scale first served: on its own with a short scale bar;
 * with the whole scale bar and ruler; with the table as well. */
typedef struct {
    double room; /* for the drawing and its surroundings */
    bool ruler, table;
} share;

static share share_of(ks_scene *scene, const ks_facts *facts)
{
    const double all = KS_SHEET_BOTTOM - KS_SHEET_TOP + 3;
    double table = 12 + 5.0 * facts->n_levels;
    share shares[] = {{all - 18 - table, true, true}, {all - 18, true, false}, {all, false, false}};
    int under, best = 0, least = 0;
    for (int i = 0; i < 3; i++) {
        if (shares[i].room < 50)
            continue;
        (void)side_of(scene, facts, KS_SHEET_TOP, shares[i].room, &under);
        if (least == 0 || under < least) {
            best = i;
            least = under;
        }
    }
    return shares[best];
}

static ks_scene *elevation(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                           double *below)
{
    ks_scene *scene = ks_sheet_begin(sheets, facts, heading);
    share mine = share_of(scene, facts);
    int under;
    side s = side_of(scene, facts, KS_SHEET_TOP, mine.room, &under);
    ks_box all = facts->extent;
    double right = s.x0 + (s.from_right ? all.y1 - all.y0 : all.x1 - all.x0) * s.scale;
    chamber_drawn(&s);
    for (int i = 0; i < facts->n_levels; i++)
        pieces_drawn(&s, &facts->levels[i]);
    furniture_drawn(&s);
    numbers_drawn(&s);
    heights_drawn(&s, right);
    sides_named(&s, right);
    if (mine.ruler)
        ks_scale_bar(scene, s.y0 + 11, under);
    else
        ks_scale_bar_short(scene, (ks_point){KS_SHEET_LEFT, s.y0 + 8.5}, under);
    *below = mine.table ? s.y0 + 28 : KS_SHEET_BOTTOM;
    return scene;
}

void ks_side_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    bool inches = strcmp(ks_say_unit(facts->display), "in") == 0;
    const char *below = ks_arena_print(
        sheets->arena, "%s · heights above the chamber floor in %s · the chamber is %s high",
        ks_say_count(facts->n_levels, "level", "levels", sheets->arena),
        inches ? "inches (mm)" : ks_say_unit(facts->display),
        ks_say_both(facts->display, facts->load->height_mm, sheets->arena));
    ks_heading heading = {"side", "The stack from the side", below, "Load plan, side"};
    double y;
    ks_scene *scene = elevation(sheets, facts, heading, &y);
    int row = 0;
    while (row < facts->n_levels) {
        if (y + 10 > KS_SHEET_BOTTOM) {
            heading.name = "side-table";
            heading.title = "Heights of the levels";
            scene = ks_sheet_begin(sheets, facts, heading);
            y = KS_SHEET_TOP + 4;
        }
        y = ks_columns_headed(scene, columns, COLUMNS, y);
        for (; row < facts->n_levels && y + 5 <= KS_SHEET_BOTTOM; row++, y += 5)
            table_row(scene, facts, &facts->levels[facts->n_levels - 1 - row], y);
        y = KS_SHEET_BOTTOM;
    }
}
