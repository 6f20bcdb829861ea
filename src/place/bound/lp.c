#include "place/bound/lp.h"

#include <glpk.h>
#include <math.h>
#include <setjmp.h>
#include <string.h>

/* GLPK ends the program when it meets what it holds for misuse, or no memory; it says why, then
 * calls its error hook. Want of memory ends ours too, since an answer without GLPK's is another
 * answer. For the rest every use of it here begins by setting `back`, to which the hook jumps; its
 * state is then thrown away whole, so no GLPK object may outlive the function that made it. */
static _Thread_local jmp_buf back;

static int hear(void *unused, const char *said)
{
    (void)unused;
    if (strstr(said, "no memory"))
        ks_no_memory();
    return 1; /* nothing of it goes to the terminal */
}

static void jump_back(void *unused)
{
    (void)unused;
    longjmp(back, 1);
}

/* Where not even its state can be allocated GLPK would abort. */
static void guard(void)
{
    if (glp_init_env() == 2)
        ks_no_memory();
    glp_term_out(GLP_OFF);
    glp_term_hook(hear, NULL);
    glp_error_hook(jump_back, NULL);
}

int ks_lp_add_row(ks_lp *lp, const char *name, double low, double high)
{
    lp->rows = KS_GROW(lp->arena, lp->rows, lp->n_rows, &lp->room_rows, ks_lp_row);
    lp->rows[lp->n_rows] = (ks_lp_row){low, high, name, 0};
    return lp->n_rows++;
}

int ks_lp_add_column(ks_lp *lp, const char *name, double worth, double high, int entries_most)
{
    lp->columns = KS_GROW(lp->arena, lp->columns, lp->n_columns, &lp->room_columns, ks_lp_column);
    lp->columns[lp->n_columns] = (ks_lp_column){
        .worth = worth,
        .high = high,
        .name = name,
        .rows = KS_TAKE(lp->arena, entries_most, int),
        .by = KS_TAKE(lp->arena, entries_most, double),
    };
    return lp->n_columns++;
}

void ks_lp_put(ks_lp *lp, int column, int row, double by)
{
    ks_lp_column *c = &lp->columns[column];
    c->rows[c->n] = row;
    c->by[c->n++] = by;
}

static int bound_kind(double low, double high)
{
    if (low == high)
        return GLP_FX;
    if (isinf(low))
        return isinf(high) ? GLP_FR : GLP_UP;
    return isinf(high) ? GLP_LO : GLP_DB;
}

static void load_rows(glp_prob *p, const ks_lp *lp)
{
    glp_set_obj_dir(p, GLP_MAX);
    if (lp->n_rows > 0)
        glp_add_rows(p, lp->n_rows);
    for (int i = 0; i < lp->n_rows; i++) {
        const ks_lp_row *row = &lp->rows[i];
        glp_set_row_bnds(p, i + 1, bound_kind(row->low, row->high), row->low, row->high);
        glp_set_row_name(p, i + 1, row->name);
        if (row->basis)
            glp_set_row_stat(p, i + 1, row->basis);
    }
}

static void load_columns(glp_prob *p, const ks_lp *lp, bool whole, ks_arena *arena)
{
    int *index = KS_TAKE(arena, lp->n_rows + 1, int);
    double *by = KS_TAKE(arena, lp->n_rows + 1, double);
    if (lp->n_columns > 0)
        glp_add_cols(p, lp->n_columns);
    for (int j = 0; j < lp->n_columns; j++) {
        const ks_lp_column *c = &lp->columns[j];
        for (int k = 0; k < c->n; k++) {
            index[k + 1] = c->rows[k] + 1;
            by[k + 1] = c->by[k];
        }
        glp_set_mat_col(p, j + 1, c->n, index, by);
        glp_set_obj_coef(p, j + 1, c->worth);
        glp_set_col_bnds(p, j + 1, bound_kind(c->low, c->high), c->low, c->high);
        glp_set_col_name(p, j + 1, c->name);
        if (whole && c->whole)
            glp_set_col_kind(p, j + 1, GLP_IV);
        if (c->basis)
            glp_set_col_stat(p, j + 1, c->basis);
    }
}

static bool has_basis(const ks_lp *lp)
{
    int basic = 0;
    for (int i = 0; i < lp->n_rows; i++) {
        if (!lp->rows[i].basis)
            return false;
        basic += lp->rows[i].basis == GLP_BS;
    }
    for (int j = 0; j < lp->n_columns; j++)
        basic += lp->columns[j].basis == GLP_BS;
    return basic == lp->n_rows;
}

static bool find_optimum(glp_prob *p, const ks_lp *lp)
{
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.meth = GLP_PRIMAL;
    how.it_lim = 200000;
    if (!has_basis(lp))
        glp_adv_basis(p, 0);
    if (glp_simplex(p, &how) == 0 && glp_get_status(p) == GLP_OPT)
        return true;
    glp_std_basis(p);
    return glp_simplex(p, &how) == 0 && glp_get_status(p) == GLP_OPT;
}

static void keep_basis(ks_lp *lp, glp_prob *p)
{
    for (int i = 0; i < lp->n_rows; i++)
        lp->rows[i].basis = glp_get_row_stat(p, i + 1);
    for (int j = 0; j < lp->n_columns; j++)
        lp->columns[j].basis = glp_get_col_stat(p, j + 1);
}

/* GLPK keeps an environment for each thread and never learns that the thread has ended. */
static void end_problem(glp_prob *p)
{
    glp_delete_prob(p);
    glp_free_env();
}

ks_lp_answer ks_lp_solve(ks_lp *lp, ks_arena *arena)
{
    ks_lp_answer answer = {0};
    answer.x = KS_TAKE(arena, lp->n_columns, double);
    answer.dual = KS_TAKE(arena, lp->n_rows, double);
    guard();
    if (setjmp(back)) {
        glp_free_env();
        return (ks_lp_answer){.x = answer.x, .dual = answer.dual};
    }
    glp_prob *p = glp_create_prob();
    load_rows(p, lp);
    load_columns(p, lp, false, arena);
    if (find_optimum(p, lp)) {
        answer.solved = true;
        answer.value = glp_get_obj_val(p);
        for (int j = 0; j < lp->n_columns; j++)
            answer.x[j] = glp_get_col_prim(p, j + 1);
        for (int i = 0; i < lp->n_rows; i++)
            answer.dual[i] = glp_get_row_dual(p, i + 1);
        keep_basis(lp, p);
    }
    end_problem(p);
    return answer;
}

typedef struct {
    int nodes, nodes_most;
    ks_stop *stop;
    const double *start; /* from 1 */
} branching;

static void watch(glp_tree *tree, void *info)
{
    branching *b = info;
    if (glp_ios_reason(tree) == GLP_IHEUR && b->start) {
        glp_ios_heur_sol(tree, b->start);
        b->start = NULL;
    }
    if (glp_ios_reason(tree) == GLP_ISELECT && ++b->nodes > b->nodes_most)
        glp_ios_terminate(tree);
    if (ks_stop_is_asked(b->stop))
        glp_ios_terminate(tree);
}

static void branch(glp_prob *p, const ks_lp *lp, branching *b, ks_lp_answer *answer)
{
    glp_iocp how;
    glp_init_iocp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.cb_func = watch;
    how.cb_info = b;
    int ended = glp_intopt(p, &how);
    int status = glp_mip_status(p);
    answer->solved = status == GLP_OPT || status == GLP_FEAS;
    answer->proven = ended == 0 && status == GLP_OPT;
    answer->value = answer->solved ? glp_mip_obj_val(p) : 0;
    for (int j = 0; j < lp->n_columns && answer->solved; j++)
        answer->x[j] = glp_mip_col_val(p, j + 1);
}

ks_lp_answer ks_lp_solve_whole(ks_lp *lp, const double *start, int nodes, ks_stop *stop,
                               ks_arena *arena)
{
    ks_lp_answer answer = {.x = KS_TAKE(arena, lp->n_columns, double)};
    double *from_one = KS_TAKE(arena, lp->n_columns + 1, double);
    if (start)
        memcpy(from_one + 1, start, sizeof(double) * (size_t)lp->n_columns);
    branching b = {.nodes_most = nodes, .stop = stop, .start = start ? from_one : NULL};
    guard();
    if (setjmp(back)) {
        glp_free_env();
        return (ks_lp_answer){.x = answer.x};
    }
    glp_prob *p = glp_create_prob();
    load_rows(p, lp);
    load_columns(p, lp, true, arena);
    if (find_optimum(p, lp))
        branch(p, lp, &b, &answer);
    end_problem(p);
    return answer;
}

static bool ends_with(const char *path, const char *ending)
{
    size_t n = strlen(path), m = strlen(ending);
    return n >= m && strcmp(path + n - m, ending) == 0;
}

ks_status ks_lp_write(const ks_lp *lp, const char *path, ks_error *err)
{
    if (!ends_with(path, ".lp") && !ends_with(path, ".mps"))
        return ks_fail(err, KS_BAD_USAGE,
                       "%s: the problem is written as .lp or .mps; end its name so", path);
    ks_arena scratch = {0};
    guard();
    if (setjmp(back)) {
        glp_free_env();
        ks_arena_finish(&scratch);
        return ks_fail(err, KS_SYSTEM, "%s: the problem could not be written", path);
    }
    glp_prob *p = glp_create_prob();
    load_rows(p, lp);
    load_columns(p, lp, true, &scratch);
    int failed = ends_with(path, ".lp") ? glp_write_lp(p, NULL, path)
                                        : glp_write_mps(p, GLP_MPS_FILE, NULL, path);
    end_problem(p);
    ks_arena_finish(&scratch);
    return failed ? ks_fail(err, KS_SYSTEM, "%s: cannot be written; is its folder there?", path)
                  : KS_OK;
}
