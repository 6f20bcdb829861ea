/* scene.h: what a sheet shows: a list of shapes and words in mm, with no drawing library behind it.
 */
#ifndef KILNSTOW_DRAW_SCENE_SCENE_H
#define KILNSTOW_DRAW_SCENE_SCENE_H

#include "draw/scene/look.h"
#include "draw/scene/out.h"
#include "draw/scene/type.h"
#include "kilnstow/shape.h"

/* Heights of capital letters, mm (the row of ISO 3098). */
#define KS_SMALL 2.5
#define KS_PLAIN 3.5
#define KS_LARGE 5.0
#define KS_TITLE 7.0

typedef enum { KS_SHAPE, KS_WORDS } ks_mark_kind;
typedef enum { KS_LEFT, KS_MIDDLE, KS_RIGHT } ks_anchor;

/* What marks are to a reader that tells a sheet aloud (ISO 32000-1, 14.8.4): shapes outside a
 * figure are decoration, and words stand in the order in which they were put. */
typedef enum { KS_TAG_PARAGRAPH, KS_TAG_TITLE, KS_TAG_HEADING, KS_TAG_FIGURE } ks_tag;

/* 'M' and 'L' use the first point, 'C' (a cubic curve) all three, 'Z' closes. */
typedef struct {
    char verb;
    ks_point p[3];
} ks_stroke;

typedef struct {
    int n, room;
    ks_stroke *at;
} ks_path;

typedef struct {
    ks_mark_kind kind;
    ks_look look;
    ks_tag tag;
    int block;        /* marks of one number are one paragraph, heading or figure */
    bool goes_on;     /* KS_WORDS: another line follows, after a space */
    int piece;        /* number of the piece it belongs to, 0 = none: for the page's script */
    int fill;         /* KS_SHAPE: which owner's fill, 0 = the look's own */
    ks_path path;     /* KS_SHAPE */
    const char *text; /* KS_WORDS: clean, see ks_type_clean */
    ks_point at;      /* left end of the line the letters stand on */
    double cap_mm;    /* height of a capital */
    double width_mm;  /* measured */
    bool backward;    /* reads from right to left */
    bool upward;      /* turned a quarter counter-clockwise: reads from the bottom up */
    bool clipped;     /* KS_SHAPE: only what is in the scene's clip shows */
} ks_mark;

typedef struct {
    const char *name;  /* part of a file's name: "level-2" */
    const char *title; /* for the bookmark */
    const char *part;  /* bookmark that those of its sheets stand under, "" = none */
    const char *about; /* one or two sentences for who cannot see it */
    double width_mm, height_mm;
    int n, room;
    ks_mark *marks;
    ks_arena *arena;
    ks_type *type;
    int piece;       /* what new marks belong to, */
    ks_tag tag;      /* and are */
    int block;       /* the latest */
    bool clipping;   /* whether new shapes are clipped */
    bool has_clip;   /* whether any is */
    int n_cut;       /* words that were shortened for want of room, */
    const char *cut; /* the first of them as they were to be */
    ks_box clip;
} ks_scene;

/* An empty scene; x to the right, y down, from the upper left corner. */
ks_scene *ks_scene_create(ks_arena *arena, ks_type *type, double width_mm, double height_mm);

/* Marks from here on are part of one figure, title or heading, until another tag is taken; words
 * of paragraphs are one for each call. */
void ks_scene_tag(ks_scene *scene, ks_tag tag);

void ks_path_move(ks_arena *arena, ks_path *path, ks_point p);
void ks_path_line(ks_arena *arena, ks_path *path, ks_point p);
void ks_path_curve(ks_arena *arena, ks_path *path, ks_point a, ks_point b, ks_point p);
void ks_path_close(ks_arena *arena, ks_path *path);

void ks_scene_shape(ks_scene *scene, ks_look look, ks_path path);
void ks_scene_fill(ks_scene *scene, ks_look look, ks_path path, int fill);
void ks_scene_line(ks_scene *scene, ks_look look, ks_point a, ks_point b);
void ks_scene_box(ks_scene *scene, ks_look look, ks_box box);
void ks_scene_disc(ks_scene *scene, ks_look look, ks_point centre, double r_mm);

/* Words with their anchor on the line the letters stand on. The text is cleaned. Returns the
 * width in mm. */
double ks_scene_words(ks_scene *scene, ks_look look, ks_point at, ks_anchor anchor, double cap_mm,
                      const char *text);

/* The same, shortened to at most `most_mm`; the scene notes what it had to cut. */
double ks_scene_fitted(ks_scene *scene, ks_look look, ks_point at, ks_anchor anchor, double cap_mm,
                       const char *text, double most_mm);

/* In the largest of the heights 7, 5, 3.5 and 2.5 mm, from `cap_mm` down, at which it fits. */
double ks_scene_sized(ks_scene *scene, ks_look look, ks_point at, double cap_mm, const char *text,
                      double most_mm);

/* Up to `lines` lines, `pitch_mm` apart, the first on `at`; returns how many there were. What does
 * not fit is cut, and noted. */
int ks_scene_wrap(ks_scene *scene, ks_look look, ks_point at, double cap_mm, double most_mm,
                  int lines, double pitch_mm, const char *text);

/* How many lines ks_scene_wrap takes when it may have as many as it likes. */
int ks_scene_lines(ks_scene *scene, ks_look look, double cap_mm, double most_mm, const char *text);

/* Room that words take: from the top of ascenders to the foot of descenders; of numbers, which have
 * neither, the height of their figures. */
ks_box ks_mark_box(const ks_mark *mark);
double ks_words_above(ks_look look, double cap_mm); /* the line they stand on, mm */
double ks_words_below(ks_look look, double cap_mm);

double ks_scene_measure(ks_scene *scene, ks_look look, double cap_mm, const char *text);

/* One line for each mark, for tests and for people: "words number 12.5 40.2 cap=5 w=8.7 17". */
const char *ks_scene_dump(const ks_scene *scene);

#endif
