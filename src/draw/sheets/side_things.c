#include "draw/sheets/side.h"

#include "draw/scene/label.h"

#include <math.h>

typedef struct {
    double from, to;
} span;

static span span_of(const ks_side *s, const ks_outline *shape)
{
    ks_box box = ks_extent(shape);
    return s->from_right ? (span){box.y0, box.y1} : (span){box.x0, box.x1};
}

static ks_box box_of(const ks_side *s, span across, double from_mm, double to_mm)
{
    return (ks_box){s->x0 + (across.from - s->least) * s->scale, s->y0 - to_mm * s->scale,
                    s->x0 + (across.to - s->least) * s->scale, s->y0 - from_mm * s->scale};
}

static void filled_box(ks_scene *scene, ks_look look, ks_box box, int fill)
{
    ks_path path = {0};
    ks_path_move(scene->arena, &path, (ks_point){box.x0, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y1});
    ks_path_line(scene->arena, &path, (ks_point){box.x0, box.y1});
    ks_path_close(scene->arena, &path);
    ks_scene_fill(scene, look, path, fill);
}

static void draw_piece(const ks_side *s, const ks_level *level, const ks_item *item)
{
    const ks_placed *placed = item->placed;
    int fill = item->owner >= 0 ? s->facts->owners[item->owner].fill : 1;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < placed->n_parts; i++) {
            const ks_part *part = &placed->parts[i];
            ks_box box = box_of(s, span_of(s, &part->outline), level->z_mm + part->from_mm,
                                level->z_mm + part->to_mm);
            if (pass == 0)
                ks_scene_box(s->scene, s->plain ? KS_LOOK_BODY_FINE_EDGE : KS_LOOK_BODY_EDGE, box);
            else
                filled_box(s->scene, part->kind == KS_PART_GROG ? KS_LOOK_DOT : KS_LOOK_BODY, box,
                           part->kind == KS_PART_GROG ? 0 : fill);
        }
}

static double depth_of(const ks_side *s, const ks_placed *placed)
{
    ks_point at = ks_item_centre(placed);
    return s->from_right ? -at.x : at.y;
}

/* From far to near, so that what is in front covers what is behind. */
static const ks_item **far_to_near(const ks_side *s, const ks_level_facts *level)
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

static void draw_pieces(const ks_side *s, const ks_level_facts *level)
{
    const ks_item **items = far_to_near(s, level);
    for (int i = 0; i < level->n_items; i++)
        draw_piece(s, level->level, items[i]);
}

static ks_polygon corners(const ks_side *s, ks_box box)
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
static void draw_numbers(const ks_side *s)
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
                ks_label_draw(&field, &label, -1);
        }
    }
}

/* Rings in the wall where the zones of the elements are. */
static void draw_elements(const ks_side *s, ks_box chamber)
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
static void draw_chamber(const ks_side *s)
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
    draw_elements(s, chamber);
}

static void draw_furniture(const ks_side *s)
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
        ks_scene_box(s->scene, s->plain ? KS_LOOK_RIM : KS_LOOK_POST,
                     box_of(s, span_of(s, &load->posts[i].outline), load->posts[i].from_mm,
                            load->posts[i].to_mm));
    for (int i = 0; i < load->n_keep_outs; i++)
        ks_scene_box(s->scene, KS_LOOK_KEEP_OUT,
                     box_of(s, span_of(s, &load->keep_outs[i].outline), load->keep_outs[i].from_mm,
                            load->keep_outs[i].to_mm));
}

void ks_side_things(const ks_side *s)
{
    draw_chamber(s);
    for (int i = 0; i < s->facts->n_levels; i++)
        draw_pieces(s, &s->facts->levels[i]);
    draw_furniture(s);
    if (!s->plain)
        draw_numbers(s);
}
