/* loads.c: plans the generated loads of a folder: instance, area placed, bound, loads, CPU seconds.
 */
#include "kilnstow/check.h"
#include "kilnstow/place.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { VERTICES_MOST = 64, PIECES_MOST = 1000 };

static double cpu_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static ks_part part_read(FILE *file, double height, ks_arena *arena)
{
    int n = 0;
    if (fscanf(file, "%d", &n) != 1 || n < 1 || n > VERTICES_MOST)
        exit(3);
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++)
        if (fscanf(file, "%lf %lf", &at[i].x, &at[i].y) != 2)
            exit(3);
    return (ks_part){KS_PART_BODY, 0, height, {n, at, 0}, {0}};
}

/* A line is `C radius h height` or `P parts h height {vertices x y ...}`. */
static bool piece_read(FILE *file, int number, ks_piece *piece, ks_arena *arena)
{
    char kind;
    double size, height;
    if (fscanf(file, " %c %lf h %lf", &kind, &size, &height) != 3)
        return false;
    *piece = (ks_piece){.id = ks_arena_print(arena, "p%d", number),
                        .owner = "",
                        .count = 1,
                        .glazed = true,
                        .set = "",
                        .due_day = KS_NO_DAY,
                        .atmosphere = "",
                        .schedule = "",
                        .clay = -1,
                        .height_mm = height};
    piece->n_parts = kind == 'C' ? 1 : (int)size;
    piece->parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int i = 0; i < piece->n_parts; i++) {
        piece->parts[i] =
            kind == 'C'
                ? (ks_part){KS_PART_BODY, 0, height, ks_outline_disc(0, 0, size, arena), {0}}
                : part_read(file, height, arena);
        piece->area_mm2 += ks_outline_area(&piece->parts[i].outline);
    }
    piece->volume_mm3 = piece->area_mm2 * height;
    piece->worth = piece->area_mm2;
    piece->mass_kg = 0;
    return true;
}

/* Chamber and shelf are one disc; five levels at most. */
static void kiln_made(ks_kiln *kiln, ks_arena *arena)
{
    static const double posts[] = {25, 38, 51, 64, 76, 102, 127, 152, 178, 203, 229};
    enum { POSTS = sizeof posts / sizeof *posts };
    *kiln = (ks_kiln){.id = "bench",
                      .name = "bench",
                      .height_mm = 560,
                      .clearance = {6, 12, 6, 6, 12, 6, 12, 0, 0}};
    kiln->n_parts = kiln->n_shelves = kiln->n_bays = kiln->n_arrangements = 1;
    kiln->parts = KS_TAKE(arena, 1, ks_chamber_part);
    kiln->parts[0] = (ks_chamber_part){0, 560, ks_outline_disc(0, 0, 260, arena)};
    kiln->shelves = KS_TAKE(arena, 1, ks_shelf_kind);
    kiln->shelves[0] = (ks_shelf_kind){
        .id = "whole", .outline = kiln->parts[0].outline, .thickness_mm = 16, .count = 5};
    kiln->n_posts = POSTS;
    kiln->posts = KS_TAKE(arena, POSTS, ks_post_kind);
    for (int i = 0; i < POSTS; i++)
        kiln->posts[i] = (ks_post_kind){.id = "post",
                                        .height_mm = posts[i],
                                        .outline = ks_outline_disc(0, 0, 19, arena),
                                        .count = 15};
    kiln->bays = KS_TAKE(arena, 1, ks_bay);
    ks_support *support = KS_TAKE(arena, 1, ks_support);
    support->n_shelves = 1;
    support->shelves = KS_TAKE(arena, 1, struct ks_laid_shelf);
    support->n_posts = 3;
    support->posts = KS_TAKE(arena, 3, ks_point);
    for (int i = 0; i < 3; i++) {
        ks_rotation turn = ks_rotation_of(90 + 120 * i);
        support->posts[i] = (ks_point){225 * turn.c, 225 * turn.s};
    }
    kiln->bays[0] = (ks_bay){"whole", kiln->parts[0].outline, 1, support};
    kiln->arrangements = KS_TAKE(arena, 1, ks_arrangement);
    kiln->arrangements[0] = (ks_arrangement){"whole", 1, KS_TAKE(arena, 1, int)};
}

static ks_order *order_made(const char *path, int loads, ks_arena *arena)
{
    ks_order *order = KS_TAKE(arena, 1, ks_order);
    FILE *file = fopen(path, "r");
    if (!file) {
        perror(path);
        exit(4);
    }
    order->file = path;
    order->pieces = KS_TAKE(arena, PIECES_MOST, ks_piece);
    while (order->n_pieces < PIECES_MOST &&
           piece_read(file, order->n_pieces, &order->pieces[order->n_pieces], arena))
        order->n_pieces++;
    fclose(file);
    order->n_kilns = order->n_firings = 1;
    order->kilns = KS_TAKE(arena, 1, ks_kiln);
    kiln_made(order->kilns, arena);
    order->firings = KS_TAKE(arena, 1, ks_firing);
    order->firings[0] = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&order->rules.clearance, i) = -1;
    order->n_slots = loads;
    order->slots = KS_TAKE(arena, loads, ks_slot);
    for (int i = 0; i < loads; i++)
        order->slots[i] = (ks_slot){0, 0, KS_NO_DAY};
    return order;
}

int main(int argc, char **argv)
{
    if (argc < 4) {
        fprintf(stderr, "use: loads FILE LOADS ROUNDS [THREADS] [SEED]\n");
        return 2;
    }
    ks_arena arena = {0};
    ks_order *order = order_made(argv[1], atoi(argv[2]), &arena);
    ks_place_options options = ks_place_default();
    options.rounds = atoi(argv[3]);
    options.threads = argc > 4 ? atoi(argv[4]) : 2;
    options.seed = argc > 5 ? (uint64_t)atoi(argv[5]) : 1;
    options.reserve_mm = 0;
    ks_placing *placing = NULL;
    ks_error err = {0};
    if (ks_placing_create(order, &options, &placing, &err) != KS_OK) {
        fprintf(stderr, "%s\n", err.text);
        return 70;
    }
    bool more = true;
    ks_progress p = {0};
    while (more) {
        if (ks_placing_step(placing, &more, &p, &err) != KS_OK)
            return 70;
        printf("round %2d worth %.0f bound %.0f placed %d of %d loads %d cpu %.2f\n", p.round,
               p.worth, p.bound, p.placed, p.wanted, p.loads, cpu_s());
        fflush(stdout);
    }
    ks_plan *plan = NULL;
    ks_placing_best(placing, "rounds", &arena, &plan, &err);
    for (int l = 0; l < plan->n_loads; l++) {
        printf("load %d:", l + 1);
        for (int k = 0; k < plan->loads[l].n_levels; k++) {
            const ks_level *level = &plan->loads[l].levels[k];
            double area = 0;
            for (int i = 0; i < level->n_pieces; i++)
                area += order->pieces[level->pieces[i].piece].area_mm2;
            printf("  z %.0f gap %.0f: %d pcs %.1f%%", level->z_mm, level->gap_mm, level->n_pieces,
                   area / (3.14159265 * 2600 * 26) * 100 / 1);
        }
        printf("\n");
    }
    printf("%s worth %.0f bound %.0f loads %d at least %d cpu %.2f\n", argv[1], plan->worth,
           plan->bound, plan->n_loads, plan->loads_at_least, cpu_s());
    ks_placing_destroy(placing);
    ks_arena_finish(&arena);
    return 0;
}
