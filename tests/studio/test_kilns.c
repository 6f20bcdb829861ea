#include "check.h"
#include "kilnstow/order.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

enum { KILNS_MOST = 64 };

typedef struct {
    ks_arena arena;
    int n;
    ks_kiln kilns[KILNS_MOST];
    char files[KILNS_MOST][64];
} stock;

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static void kiln_read(stock *all, int i)
{
    char path[128];
    ks_error err = {0};
    snprintf(path, sizeof path, "kilns/%s", all->files[i]);
    if (ks_kiln_read(path, &all->arena, &all->kilns[i], &err))
        fail_msg("%s", err.text);
}

static int all_kilns_read(void **state)
{
    stock *all = calloc(1, sizeof *all);
    DIR *folder = opendir("kilns");
    assert_non_null(all);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder));) {
        const char *dot = strrchr(entry->d_name, '.');
        if (dot && strcmp(dot, ".json") == 0 && all->n < KILNS_MOST)
            snprintf(all->files[all->n++], sizeof all->files[0], "%.60s", entry->d_name);
    }
    closedir(folder);
    qsort(all->files, (size_t)all->n, sizeof all->files[0], by_name);
    for (int i = 0; i < all->n; i++)
        kiln_read(all, i);
    *state = all;
    return 0;
}

static int all_kilns_finished(void **state)
{
    stock *all = *state;
    ks_arena_finish(&all->arena);
    free(all);
    return 0;
}

static ks_outline laid(const ks_kiln *kiln, const struct ks_laid_shelf *shelf, ks_arena *arena)
{
    return ks_outline_place(&kiln->shelves[shelf->kind].outline, shelf->stand, arena);
}

static void at_least_twelve_kilns_each_named_as_its_file(void **state)
{
    stock *all = *state;
    assert_true(all->n >= 12);
    for (int i = 0; i < all->n; i++) {
        assert_int_equal(strlen(all->kilns[i].id) + strlen(".json"), strlen(all->files[i]));
        assert_memory_equal(all->kilns[i].id, all->files[i], strlen(all->kilns[i].id));
        assert_true(strlen(all->kilns[i].note) > 0);
    }
}

static void check_shelf_lies_free(const ks_kiln *kiln, const ks_bay *bay, const ks_outline *shelf)
{
    double from_wall = ks_outline_inside(shelf, &kiln->parts[0].outline);
    if (from_wall < 12 || from_wall > 50)
        fail_msg("%s, bay %s: a shelf is %g mm from the wall", kiln->id, bay->id, from_wall);
    double in_bay = ks_outline_inside(shelf, &bay->outline);
    if (in_bay < 0.5)
        fail_msg("%s, bay %s: a shelf is %g mm within its bay", kiln->id, bay->id, in_bay);
}

/* 12 to 50 mm from the wall: room for a hand's edge and for heat to rise (common practice, no
 * source). */
static void every_shelf_lies_within_its_chamber_and_bay(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++)
        for (int b = 0; b < all->kilns[i].n_bays; b++) {
            const ks_bay *bay = &all->kilns[i].bays[b];
            for (int s = 0; s < bay->n_supports; s++)
                for (int k = 0; k < bay->supports[s].n_shelves; k++) {
                    ks_outline shelf =
                        laid(&all->kilns[i], &bay->supports[s].shelves[k], &all->arena);
                    check_shelf_lies_free(&all->kilns[i], bay, &shelf);
                }
        }
}

static void shelves_of_one_support_lie_side_by_side(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++)
        for (int b = 0; b < all->kilns[i].n_bays; b++)
            for (int s = 0; s < all->kilns[i].bays[b].n_supports; s++) {
                const ks_support *up = &all->kilns[i].bays[b].supports[s];
                for (int k = 1; k < up->n_shelves; k++)
                    for (int j = 0; j < k; j++) {
                        ks_outline one = laid(&all->kilns[i], &up->shelves[j], &all->arena);
                        ks_outline other = laid(&all->kilns[i], &up->shelves[k], &all->arena);
                        assert_true(ks_outline_distance(&one, &other) >= 0.9);
                    }
            }
}

/* A post at a seam of at most 3 mm carries the shelves on both sides of it. */
static bool carries(const ks_outline *shelf, ks_point post)
{
    return ks_outline_from_point(shelf, post) <= 1.5;
}

static int posts_under(const ks_support *up, const ks_outline *shelf, ks_outline *under)
{
    int n = 0;
    for (int p = 0; p < up->n_posts; p++)
        if (carries(shelf, up->posts[p]))
            under[n++] = (ks_outline){1, &up->posts[p], 0};
    return n;
}

static void check_shelf_is_carried(const ks_kiln *kiln, const ks_support *up, int k,
                                   ks_arena *arena)
{
    ks_outline shelf = laid(kiln, &up->shelves[k], arena);
    ks_outline *under = KS_TAKE(arena, up->n_posts + 1, ks_outline);
    int n = posts_under(up, &shelf, under);
    if (n < 3)
        fail_msg("%s: a shelf has %d posts", kiln->id, n);
    ks_outline hull = ks_outline_hull(under, n, arena);
    double spare = -ks_outline_from_point(&hull, ks_outline_centroid(&shelf));
    if (spare < 10)
        fail_msg("%s: a shelf's centre is %g mm within its posts", kiln->id, spare);
}

static void every_shelf_has_three_posts_around_its_centre(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++)
        for (int b = 0; b < all->kilns[i].n_bays; b++)
            for (int s = 0; s < all->kilns[i].bays[b].n_supports; s++) {
                const ks_support *up = &all->kilns[i].bays[b].supports[s];
                for (int k = 0; k < up->n_shelves; k++)
                    check_shelf_is_carried(&all->kilns[i], up, k, &all->arena);
            }
}

static void check_post_keeps_out(const ks_kiln *kiln, const ks_bay *bay, ks_stand at,
                                 ks_arena *arena)
{
    ks_outline post = ks_outline_place(&kiln->posts[0].outline, at, arena);
    for (int i = 0; i < kiln->n_keep_outs; i++) {
        double clear = ks_outline_distance(&post, &kiln->keep_outs[i].outline);
        if (clear < kiln->keep_outs[i].clearance_mm)
            fail_msg("%s, bay %s: a post at %g, %g is %g mm from a %s", kiln->id, bay->id, at.x,
                     at.y, clear, kiln->keep_outs[i].kind);
    }
}

static void no_post_stands_before_a_sensor_or_a_peephole(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++)
        for (int b = 0; b < all->kilns[i].n_bays; b++) {
            const ks_bay *bay = &all->kilns[i].bays[b];
            for (int s = 0; s < bay->n_supports; s++)
                for (int p = 0; p < bay->supports[s].n_posts; p++) {
                    ks_point at = bay->supports[s].posts[p];
                    check_post_keeps_out(&all->kilns[i], bay, (ks_stand){at.x, at.y, 0},
                                         &all->arena);
                }
        }
}

static bool is_among(ks_point p, const ks_support *up)
{
    for (int i = 0; i < up->n_posts; i++)
        if (fabs(up->posts[i].x - p.x) < 0.01 && fabs(up->posts[i].y - p.y) < 0.01)
            return true;
    return false;
}

static bool a_support_holds_all_posts_of(const ks_kiln *kiln, const ks_bay *wide, int part)
{
    const ks_support *up = &kiln->bays[part].supports[0];
    for (int s = 0; s < wide->n_supports; s++) {
        int held = 0;
        for (int p = 0; p < up->n_posts; p++)
            held += is_among(up->posts[p], &wide->supports[s]);
        if (held == up->n_posts)
            return true;
    }
    return false;
}

/* So that posts can go on upwards where a load changes from one arrangement to another. */
static void the_first_bay_can_stand_under_and_over_all_others(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++)
        for (int b = 1; b < all->kilns[i].n_bays; b++)
            if (!a_support_holds_all_posts_of(&all->kilns[i], &all->kilns[i].bays[0], b))
                fail_msg("%s: the posts of bay %s stand nowhere in bay %s", all->kilns[i].id,
                         all->kilns[i].bays[b].id, all->kilns[i].bays[0].id);
}

static void shares_of_the_heating_zones_add_up(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++) {
        double sum = 0;
        for (int z = 0; z < all->kilns[i].heat.n_zones; z++)
            sum += all->kilns[i].heat.zones[z].share;
        check_near(sum, 1, 1e-9);
    }
}

/* P = U I, and with three phases U I sqrt(3). */
static void power_agrees_with_volts_and_amps(void **state)
{
    stock *all = *state;
    for (int i = 0; i < all->n; i++) {
        const ks_heat *heat = &all->kilns[i].heat;
        if (heat->kind == KS_ELECTRIC)
            check_near(heat->rated_volts * heat->amps * sqrt(heat->phases) / 1000, heat->rated_kw,
                       0.01 * heat->rated_kw);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_least_twelve_kilns_each_named_as_its_file),
        cmocka_unit_test(every_shelf_lies_within_its_chamber_and_bay),
        cmocka_unit_test(shelves_of_one_support_lie_side_by_side),
        cmocka_unit_test(every_shelf_has_three_posts_around_its_centre),
        cmocka_unit_test(no_post_stands_before_a_sensor_or_a_peephole),
        cmocka_unit_test(the_first_bay_can_stand_under_and_over_all_others),
        cmocka_unit_test(shares_of_the_heating_zones_add_up),
        cmocka_unit_test(power_agrees_with_volts_and_amps),
    };
    return cmocka_run_group_tests(tests, all_kilns_read, all_kilns_finished);
}
