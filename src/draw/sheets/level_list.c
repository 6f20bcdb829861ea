#include "draw/sheets/level_sheet.h"

#include <math.h>

#define PITCH 4.0
#define BETWEEN 1.4 /* lines that belong together stand closer than those that do not */
#define TICK 3.2
#define APART 5.0 /* columns */

#define AFTER_TICK (TICK + 1.8)

/* A mark that leaves too little of the width to its words stands on lines of its own over them. */
static bool is_beside(const ks_level_list *list, int nth, double width)
{
    return *list->lines[nth].mark && list->marks_mm[nth] <= list->beside * width;
}

/* Line `n` of a list is its key, with the scale under it. */
static double text_left(const ks_level_list *list, int nth, double width)
{
    if (list->lines[nth].title)
        return 0;
    if (!is_beside(list, nth, width))
        return AFTER_TICK;
    double column = 0;
    for (int i = 0; i < list->n; i++)
        if (is_beside(list, i, width))
            column = fmax(column, list->marks_mm[i]);
    return AFTER_TICK + column + 1.8;
}

static double line_height(const ks_level_list *list, int nth, double width)
{
    if (nth == list->n)
        return PITCH *
                   (1 + ks_scene_lines(list->scene, KS_LOOK_FAINT, KS_SMALL, width, list->key)) +
               2 * BETWEEN;
    const ks_level_line *line = &list->lines[nth];
    double room = width - text_left(list, nth, width);
    int lines = ks_scene_lines(list->scene, line->title ? KS_LOOK_STRONG : KS_LOOK_TEXT, KS_SMALL,
                               room, line->words);
    if (*line->mark && !is_beside(list, nth, width))
        lines += ks_scene_lines(list->scene, KS_LOOK_NUMBER, KS_SMALL, room, line->mark);
    if (*line->adult)
        lines += ks_scene_lines(list->scene, KS_LOOK_STRONG, KS_SMALL, room - 2,
                                ks_adult_words(line->adult, list->scene->arena));
    if (*line->care)
        lines += ks_scene_lines(list->scene, KS_LOOK_STRONG, KS_SMALL, room - 2, line->care);
    return PITCH * lines + BETWEEN;
}

/* Columns that the list takes where none is higher than `most`; more than there are lines if one
 * line alone is higher. */
static int columns_of(const double *heights, int n, double most)
{
    int columns = 1;
    double height = 0;
    for (int i = 0; i < n; i++) {
        if (heights[i] > most)
            return n + 1;
        if (height + heights[i] > most) {
            columns++;
            height = 0;
        }
        height += heights[i];
    }
    return columns;
}

double ks_level_list_height(const ks_level_list *list, int columns, double width_mm, double most_mm)
{
    const double step = 1;
    double width = (width_mm - APART * (columns - 1)) / columns, all = 0;
    int n = list->n + 1;
    double *heights = KS_TAKE(list->scene->arena, n, double);
    for (int i = 0; i < n; i++) {
        heights[i] = line_height(list, i, width);
        all += heights[i];
    }
    for (double height = all / columns; height <= most_mm; height += step)
        if (columns_of(heights, n, height + 1e-9) <= columns)
            return height;
    return INFINITY;
}

static void draw_line(const ks_level_list *list, int nth, ks_point at, double width)
{
    enum { ALL = 12 };
    ks_scene *scene = list->scene;
    if (nth == list->n) {
        int lines = ks_scene_wrap(scene, KS_LOOK_FAINT, (ks_point){at.x, at.y + PITCH}, KS_SMALL,
                                  width, ALL, PITCH, list->key);
        ks_scale_bar_short(scene, (ks_point){at.x, at.y + PITCH * (lines + 1) + BETWEEN},
                           list->under, list->inches);
        return;
    }
    const ks_level_line *line = &list->lines[nth];
    double left = text_left(list, nth, width), y = at.y + PITCH - 0.8;
    if (!line->title)
        ks_scene_box(scene, KS_LOOK_TICK, (ks_box){at.x, y - TICK + 0.4, at.x + TICK, y + 0.4});
    if (is_beside(list, nth, width))
        ks_scene_words(scene, KS_LOOK_NUMBER, (ks_point){at.x + left - 1.8, y}, KS_RIGHT, KS_SMALL,
                       line->mark);
    else if (*line->mark)
        y += PITCH * ks_scene_wrap(scene, KS_LOOK_NUMBER, (ks_point){at.x + left, y}, KS_SMALL,
                                   width - left, ALL, PITCH, line->mark);
    y += PITCH * ks_scene_wrap(scene, line->title ? KS_LOOK_STRONG : KS_LOOK_TEXT,
                               (ks_point){at.x + left, y}, KS_SMALL, width - left, ALL, PITCH,
                               line->words);
    const char *more[] = {ks_adult_words(line->adult, scene->arena), line->care};
    for (int i = 0; i < 2; i++)
        if (*more[i])
            y += PITCH * ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){at.x + left + 2, y},
                                       KS_SMALL, width - left - 2, ALL, PITCH, more[i]);
}

int ks_level_list_draw(const ks_level_list *list, int first, int columns, ks_box box)
{
    double width = (box.x1 - box.x0 - APART * (columns - 1)) / columns;
    int column = 0;
    double y = box.y0;
    for (int i = first; i <= list->n; i++) {
        double height = line_height(list, i, width);
        if (y + height > box.y1 + 1e-6 && y > box.y0) {
            if (++column == columns)
                return i;
            y = box.y0;
        }
        draw_line(list, i, (ks_point){box.x0 + column * (width + APART), y}, width);
        y += height;
    }
    return list->n + 1;
}
