#include "place/search/pool.h"

#include <math.h>
#include <stdlib.h>

/* The top problem. Columns: how often each pattern is laid, how many loads are built as each stack,
 * and levels used below their height or with posts' places unused. Rows: copies of each item, loads
 * of each kind, and for each class no more patterns than levels:
 *
 *   patterns of the class + levels lent downwards - levels borrowed from above - levels built <= 0
 */

typedef struct {
    ks_pool *pool;
    ks_lp lp;
    int *good_row, *kind_row;
    int first_pattern, first_stack;
} master;

static int by_class(const void *x, const void *y)
{
    const ks_class *a = x, *b = y;
    if (a->group != b->group)
        return a->group - b->group;
    if (a->top != b->top)
        return a->top - b->top;
    return a->height - b->height;
}

static int sorted_class(const ks_pool *pool, int group, int height, bool top)
{
    for (int c = 0; c < pool->n_classes; c++)
        if (pool->classes[c].group == group && pool->classes[c].height == height &&
            pool->classes[c].top == top)
            return c;
    return -1;
}

/* The lowest class whose levels take the pattern. */
static int home_of(const ks_pool *pool, const ks_pattern *pattern)
{
    for (int c = 0; c < pool->n_classes; c++)
        if (pool->classes[c].top == pattern->top &&
            ks_pattern_fits(pattern, pool->classes[c].group, pool->classes[c].height,
                            pool->classes[c].top))
            return c;
    for (int c = 0; c < pool->n_classes; c++)
        if (ks_pattern_fits(pattern, pool->classes[c].group, pool->classes[c].height,
                            pool->classes[c].top))
            return c;
    return -1;
}

static void put_rows(master *m)
{
    ks_pool *pool = m->pool;
    const ks_job *job = pool->job;
    for (int i = 0; i < job->order->n_pieces; i++)
        m->good_row[i] =
            ks_lp_add_row(&m->lp, ks_arena_print(m->lp.arena, "copies_%d", i), -INFINITY,
                          job->items[i].copies > 0 ? job->order->pieces[i].count : 0);
    for (int k = 0; k < job->n_kinds; k++)
        m->kind_row[k] = ks_lp_add_row(&m->lp, ks_arena_print(m->lp.arena, "loads_%d", k),
                                       -INFINITY, pool->loads[k]);
    for (int c = 0; c < pool->n_classes; c++)
        pool->classes[c].row =
            ks_lp_add_row(&m->lp, ks_arena_print(m->lp.arena, "levels_%d", c), -INFINITY, 0);
}

static void put_patterns(master *m)
{
    ks_pool *pool = m->pool;
    m->first_pattern = m->lp.n_columns;
    for (int p = 0; p < pool->n_patterns; p++) {
        const ks_pattern *pattern = &pool->patterns[p];
        int home = home_of(pool, pattern);
        double worth = 0;
        for (int k = 0; k < pattern->n; k++)
            worth += pool->worth[pattern->items[k]] * pattern->counts[k];
        int column = ks_lp_add_column(&m->lp, ks_arena_print(m->lp.arena, "pattern_%d", p), worth,
                                      home < 0 ? 0 : INFINITY, pattern->n + 1);
        m->lp.columns[column].whole = true;
        for (int k = 0; k < pattern->n; k++)
            ks_lp_put(&m->lp, column, m->good_row[pattern->items[k]], pattern->counts[k]);
        if (home >= 0)
            ks_lp_put(&m->lp, column, pool->classes[home].row, 1);
    }
}

static void put_stacks(master *m)
{
    ks_pool *pool = m->pool;
    const ks_job *job = pool->job;
    m->first_stack = m->lp.n_columns;
    ks_arena scratch = {0};
    int *levels = KS_TAKE(&scratch, pool->n_classes, int);
    for (int s = 0; s < pool->n_stacks; s++) {
        const ks_pool_stack *stack = &pool->stacks[s];
        int column = ks_lp_add_column(&m->lp, ks_arena_print(m->lp.arena, "stack_%d", s),
                                      -pool->load_cost, INFINITY, stack->stack.n_levels + 1);
        m->lp.columns[column].whole = true;
        for (int c = 0; c < pool->n_classes; c++)
            levels[c] = 0;
        for (int l = 0; l < stack->stack.n_levels; l++) {
            const ks_stack_level *level = &stack->stack.levels[l];
            double clear = ks_level_clear_mm(&job->kinds[stack->kind], level);
            levels[sorted_class(pool, stack->group[l], ks_height_index(job, clear),
                                level->posts < 0)]++;
        }
        for (int c = 0; c < pool->n_classes; c++)
            if (levels[c] > 0)
                ks_lp_put(&m->lp, column, pool->classes[c].row, -levels[c]);
        ks_lp_put(&m->lp, column, m->kind_row[stack->kind], 1);
    }
    ks_arena_finish(&scratch);
}

/* A level takes what a lower one takes, a top level what one with posts takes. */
static void put_lending(master *m)
{
    ks_pool *pool = m->pool;
    for (int c = 0; c < pool->n_classes; c++)
        for (int to = c - 1, lent = 0; to >= 0 && lent < 2; to--) {
            const ks_class *from = &pool->classes[c], *low = &pool->classes[to];
            if (low->group != from->group || low->height > from->height)
                continue;
            bool step = low->top == from->top && lent == 0;
            bool posts = from->top && !low->top;
            if (!step && !posts)
                continue;
            int column = ks_lp_add_column(&m->lp, ks_arena_print(m->lp.arena, "lent_%d_%d", c, to),
                                          0, INFINITY, 2);
            ks_lp_put(&m->lp, column, from->row, 1);
            ks_lp_put(&m->lp, column, low->row, -1);
            lent = posts ? 2 : 1;
        }
}

static void state(master *m, ks_pool *pool, ks_arena *arena)
{
    *m = (master){.pool = pool, .lp = {.arena = arena}};
    m->good_row = KS_TAKE(arena, pool->job->n_items, int);
    m->kind_row = KS_TAKE(arena, pool->job->n_kinds, int);
    if (pool->n_classes > 0)
        qsort(pool->classes, (size_t)pool->n_classes, sizeof *pool->classes, by_class);
    put_rows(m);
    put_patterns(m);
    put_stacks(m);
    put_lending(m);
}

static double not_negative(double x)
{
    return x > 0 ? x : 0;
}

bool ks_pool_solve(ks_pool *pool)
{
    ks_arena scratch = {0};
    master m;
    state(&m, pool, &scratch);
    ks_lp_answer answer = ks_lp_solve(&m.lp, &scratch);
    if (answer.solved) {
        pool->value = answer.value;
        for (int i = 0; i < pool->job->order->n_pieces; i++)
            pool->price[i] = not_negative(answer.dual[m.good_row[i]]);
        for (int k = 0; k < pool->job->n_kinds; k++)
            pool->load_price[k] = not_negative(answer.dual[m.kind_row[k]]);
        for (int c = 0; c < pool->n_classes; c++)
            pool->classes[c].value = not_negative(answer.dual[pool->classes[c].row]);
        pool->pattern_used = KS_TAKE(pool->arena, pool->n_patterns, double);
        pool->stack_used = KS_TAKE(pool->arena, pool->n_stacks, double);
        for (int p = 0; p < pool->n_patterns; p++)
            pool->pattern_used[p] = answer.x[m.first_pattern + p];
        for (int s = 0; s < pool->n_stacks; s++)
            pool->stack_used[s] = answer.x[m.first_stack + s];
    }
    ks_arena_finish(&scratch);
    return answer.solved;
}

bool ks_pool_solve_whole(ks_pool *pool, int nodes, ks_stop *stop, double *uses)
{
    ks_arena scratch = {0};
    master m;
    state(&m, pool, &scratch);
    ks_lp_answer answer = ks_lp_solve_whole(&m.lp, NULL, nodes, stop, &scratch);
    for (int p = 0; p < pool->n_patterns && answer.solved; p++)
        uses[p] = answer.x[m.first_pattern + p];
    for (int s = 0; s < pool->n_stacks && answer.solved; s++)
        uses[pool->n_patterns + s] = answer.x[m.first_stack + s];
    ks_arena_finish(&scratch);
    return answer.solved;
}

ks_status ks_pool_write(ks_pool *pool, const char *path, ks_error *err)
{
    ks_arena scratch = {0};
    master m;
    state(&m, pool, &scratch);
    ks_status status = ks_lp_write(&m.lp, path, err);
    ks_arena_finish(&scratch);
    return status;
}
