#include "draw/scene/scene.h"

#include <math.h>
#include <string.h>

ks_scene *ks_scene_create(ks_arena *arena, ks_type *type, double width_mm, double height_mm)
{
    ks_scene *scene = KS_TAKE(arena, 1, ks_scene);
    *scene = (ks_scene){.name = "",
                        .title = "",
                        .part = "",
                        .about = "",
                        .width_mm = width_mm,
                        .height_mm = height_mm,
                        .arena = arena,
                        .type = type};
    return scene;
}

static void add_stroke(ks_arena *arena, ks_path *path, ks_stroke stroke)
{
    path->at = KS_GROW(arena, path->at, path->n, &path->room, ks_stroke);
    path->at[path->n++] = stroke;
}

void ks_path_move(ks_arena *arena, ks_path *path, ks_point p)
{
    add_stroke(arena, path, (ks_stroke){'M', {p}});
}

void ks_path_line(ks_arena *arena, ks_path *path, ks_point p)
{
    add_stroke(arena, path, (ks_stroke){'L', {p}});
}

void ks_path_curve(ks_arena *arena, ks_path *path, ks_point a, ks_point b, ks_point p)
{
    add_stroke(arena, path, (ks_stroke){'C', {a, b, p}});
}

void ks_path_close(ks_arena *arena, ks_path *path)
{
    add_stroke(arena, path, (ks_stroke){.verb = 'Z'});
}

static ks_mark *add(ks_scene *scene)
{
    scene->marks = KS_GROW(scene->arena, scene->marks, scene->n, &scene->room, ks_mark);
    ks_mark *mark = &scene->marks[scene->n++];
    *mark = (ks_mark){.piece = scene->piece, .tag = scene->tag, .block = scene->block};
    return mark;
}

void ks_scene_tag(ks_scene *scene, ks_tag tag)
{
    scene->tag = tag;
    scene->block++;
}

static void begin_words(ks_scene *scene)
{
    scene->block += scene->tag == KS_TAG_PARAGRAPH;
}

void ks_scene_fill(ks_scene *scene, ks_look look, ks_path path, int fill)
{
    if (path.n == 0)
        return;
    ks_mark *mark = add(scene);
    mark->kind = KS_SHAPE;
    mark->look = look;
    mark->path = path;
    mark->fill = fill;
    mark->clipped = scene->clipping;
    scene->has_clip |= scene->clipping;
}

void ks_scene_shape(ks_scene *scene, ks_look look, ks_path path)
{
    ks_scene_fill(scene, look, path, 0);
}

void ks_scene_line(ks_scene *scene, ks_look look, ks_point a, ks_point b)
{
    ks_path path = {0};
    ks_path_move(scene->arena, &path, a);
    ks_path_line(scene->arena, &path, b);
    ks_scene_shape(scene, look, path);
}

void ks_scene_box(ks_scene *scene, ks_look look, ks_box box)
{
    ks_path path = {0};
    ks_path_move(scene->arena, &path, (ks_point){box.x0, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y0});
    ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y1});
    ks_path_line(scene->arena, &path, (ks_point){box.x0, box.y1});
    ks_path_close(scene->arena, &path);
    ks_scene_shape(scene, look, path);
}

void ks_scene_disc(ks_scene *scene, ks_look look, ks_point c, double r)
{
    double k = r * 0.5522847498; /* 4/3 (sqrt 2 - 1): a quarter circle as a cubic */
    ks_arena *arena = scene->arena;
    ks_path path = {0};
    ks_path_move(arena, &path, (ks_point){c.x + r, c.y});
    ks_path_curve(arena, &path, (ks_point){c.x + r, c.y + k}, (ks_point){c.x + k, c.y + r},
                  (ks_point){c.x, c.y + r});
    ks_path_curve(arena, &path, (ks_point){c.x - k, c.y + r}, (ks_point){c.x - r, c.y + k},
                  (ks_point){c.x - r, c.y});
    ks_path_curve(arena, &path, (ks_point){c.x - r, c.y - k}, (ks_point){c.x - k, c.y - r},
                  (ks_point){c.x, c.y - r});
    ks_path_curve(arena, &path, (ks_point){c.x + k, c.y - r}, (ks_point){c.x + r, c.y - k},
                  (ks_point){c.x + r, c.y});
    ks_path_close(arena, &path);
    ks_scene_shape(scene, look, path);
}

static double em_of(double cap_mm)
{
    return cap_mm / KS_CAP_HEIGHT;
}

static double clean_words(ks_scene *scene, ks_look look, ks_point at, ks_anchor anchor,
                          double cap_mm, const char *text)
{
    if (!*text)
        return 0;
    ks_line line = ks_type_line(scene->type, text, ks_looks[look].bold);
    double width = line.width * em_of(cap_mm);
    ks_mark *mark = add(scene);
    mark->kind = KS_WORDS;
    mark->look = look;
    mark->text = text;
    mark->cap_mm = cap_mm;
    mark->width_mm = width;
    mark->backward = line.backward;
    mark->at = at;
    if (anchor != KS_LEFT)
        mark->at.x -= anchor == KS_MIDDLE ? width / 2 : width;
    return width;
}

double ks_scene_words(ks_scene *scene, ks_look look, ks_point at, ks_anchor anchor, double cap_mm,
                      const char *text)
{
    begin_words(scene);
    return clean_words(scene, look, at, anchor, cap_mm, ks_type_clean(scene->arena, text));
}

static void note_cut(ks_scene *scene, const char *whole)
{
    if (scene->n_cut++ == 0)
        scene->cut = whole;
}

double ks_scene_fitted(ks_scene *scene, ks_look look, ks_point at, ks_anchor anchor, double cap_mm,
                       const char *text, double most_mm)
{
    const char *clean = ks_type_clean(scene->arena, text);
    const char *fitted =
        ks_type_fitted(scene->type, clean, ks_looks[look].bold, most_mm / em_of(cap_mm));
    if (fitted != clean)
        note_cut(scene, clean);
    begin_words(scene);
    return clean_words(scene, look, at, anchor, cap_mm, fitted);
}

double ks_scene_sized(ks_scene *scene, ks_look look, ks_point at, double cap_mm, const char *text,
                      double most_mm)
{
    static const double heights[] = {KS_TITLE, KS_LARGE, KS_PLAIN, KS_SMALL};
    for (int i = 0; i < 3; i++)
        if (heights[i] <= cap_mm && ks_scene_measure(scene, look, heights[i], text) <= most_mm)
            return ks_scene_fitted(scene, look, at, KS_LEFT, heights[i], text, most_mm);
    return ks_scene_fitted(scene, look, at, KS_LEFT, KS_SMALL, text, most_mm);
}

/* No text has more lines than bytes. */
static const char **room_for_lines(ks_scene *scene, const char *clean, int *most)
{
    *most = (int)strlen(clean) + 1;
    return KS_TAKE(scene->arena, *most, const char *);
}

int ks_scene_lines(ks_scene *scene, ks_look look, double cap_mm, double most_mm, const char *text)
{
    int most;
    const char *clean = ks_type_clean(scene->arena, text);
    const char **found = room_for_lines(scene, clean, &most);
    return ks_type_wrap(scene->type, clean, ks_looks[look].bold, most_mm / em_of(cap_mm), most,
                        found);
}

/* Whether the text, whose rest this is, was broken at a space after the line. */
static bool breaks_at_space(const char **rest, const char *line)
{
    const char *at = strstr(*rest, line);
    if (!at)
        return false;
    *rest = at + strlen(line);
    return **rest == ' ';
}

int ks_scene_wrap(ks_scene *scene, ks_look look, ks_point at, double cap_mm, double most_mm,
                  int lines, double pitch_mm, const char *text)
{
    int most;
    const char *clean = ks_type_clean(scene->arena, text);
    const char **found = room_for_lines(scene, clean, &most);
    double em = most_mm / em_of(cap_mm);
    bool bold = ks_looks[look].bold;
    int needed = ks_type_wrap(scene->type, clean, bold, em, most, found);
    bool narrow = needed > 0 && !*found[needed - 1]; /* not even a letter fits */
    if (needed > lines || narrow)
        note_cut(scene, clean);
    if (needed > lines)
        needed = ks_type_wrap(scene->type, clean, bold, em, lines, found);
    begin_words(scene);
    for (int i = 0; i < needed; i++) {
        clean_words(scene, look, (ks_point){at.x, at.y + i * pitch_mm}, KS_LEFT, cap_mm, found[i]);
        if (breaks_at_space(&clean, found[i]))
            scene->marks[scene->n - 1].goes_on = true;
    }
    return needed;
}

double ks_words_above(ks_look look, double cap_mm)
{
    return em_of(cap_mm) * (look == KS_LOOK_NUMBER ? KS_FIGURE_HEIGHT : KS_ASCENT);
}

double ks_words_below(ks_look look, double cap_mm)
{
    return em_of(cap_mm) * (look == KS_LOOK_NUMBER ? KS_FIGURE_DEPTH : KS_DESCENT);
}

ks_box ks_mark_box(const ks_mark *mark)
{
    double up = ks_words_above(mark->look, mark->cap_mm),
           down = ks_words_below(mark->look, mark->cap_mm);
    ks_point at = mark->at;
    if (mark->upward)
        return (ks_box){at.x - up, at.y - mark->width_mm, at.x + down, at.y};
    return (ks_box){at.x, at.y - up, at.x + mark->width_mm, at.y + down};
}

double ks_scene_measure(ks_scene *scene, ks_look look, double cap_mm, const char *text)
{
    const char *clean = ks_type_clean(scene->arena, text);
    return ks_type_width(scene->type, clean, ks_looks[look].bold) * em_of(cap_mm);
}

static void dump_path(ks_text *out, const ks_path *path)
{
    for (int i = 0; i < path->n; i++) {
        const ks_stroke *stroke = &path->at[i];
        ks_text_print(out, " %c", stroke->verb);
        int points = stroke->verb == 'Z' ? 0 : stroke->verb == 'C' ? 3 : 1;
        for (int j = 0; j < points; j++) {
            ks_text_add(out, " ");
            ks_drawn_number(out, stroke->p[j].x);
            ks_text_add(out, ",");
            ks_drawn_number(out, stroke->p[j].y);
        }
    }
}

static void dump_mark(ks_text *out, const ks_mark *mark)
{
    ks_text_print(out, "%s %s", mark->kind == KS_SHAPE ? "shape" : "words",
                  ks_looks[mark->look].name);
    if (mark->piece)
        ks_text_print(out, " piece=%d", mark->piece);
    if (mark->fill)
        ks_text_print(out, " fill=%d", mark->fill);
    if (mark->kind == KS_SHAPE) {
        dump_path(out, &mark->path);
    } else {
        ks_text_add(out, " ");
        ks_drawn_number(out, mark->at.x);
        ks_text_add(out, ",");
        ks_drawn_number(out, mark->at.y);
        ks_text_print(out, " cap=%.1f width=%.1f%s%s: %s", mark->cap_mm, mark->width_mm,
                      mark->backward ? " backward" : "", mark->upward ? " upward" : "", mark->text);
    }
    ks_text_add(out, "\n");
}

const char *ks_scene_dump(const ks_scene *scene)
{
    ks_text out = {.arena = scene->arena};
    ks_text_print(&out, "scene %s %.0f x %.0f: %s\n", scene->name, scene->width_mm,
                  scene->height_mm, scene->title);
    for (int i = 0; i < scene->n; i++)
        dump_mark(&out, &scene->marks[i]);
    return ks_text_end(&out);
}
