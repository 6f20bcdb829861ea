#include "pack/instance/descent.h"

#include <math.h>
#include <string.h>

/* The last of a descent: all shortfalls as straight functions of the values, the least move that
 * makes good for them, damped (Levenberg 1944; Marquardt 1963), with a dense Cholesky
 * factorisation. Pairs that nearly touch are looked at too, and join in when the move would make
 * them short. Doubles the right digits at each step where a layout without overlap is near. */

enum { MOST_STEPS = 12, ROW = 7 };

/* One shortfall and where it depends on the values. */
typedef struct {
    int n, at[ROW];
    double by[ROW], short_mm;
} row;

static void add_entry(row *to, int at, double by)
{
    to->at[to->n] = at;
    to->by[to->n++] = by;
}

static void add_body(const ks_descent *descent, row *to, int body, ks_pull of)
{
    const ks_item_type *kind = &descent->packing->instance->kinds[descent->packing->kind[body]];
    add_entry(to, descent->at[body], of.x);
    add_entry(to, descent->at[body] + 1, of.y);
    if (kind->n_turns == 0)
        add_entry(to, descent->at[body] + 2, of.turn / ks_relax_arm(kind));
}

static row row_of(const ks_descent *descent, const ks_contact *contact)
{
    row out = {.short_mm = contact->short_mm};
    add_body(descent, &out, contact->i, contact->of_i);
    if (contact->j >= 0)
        add_body(descent, &out, contact->j, contact->of_j);
    if (descent->turns_posts && contact->of_posts != 0)
        add_entry(&out, descent->n_values - 1,
                  contact->of_posts / ks_relax_post_arm(descent->packing));
    return out;
}

/* The normal equations of the shortfalls that count: lower half of the matrix, and the right side.
 */
static void equations(ks_descent *descent)
{
    int n = descent->n_values;
    double *matrix = descent->matrix, *right = descent->move;
    memset(matrix, 0, (size_t)(n * n) * sizeof *matrix);
    memset(right, 0, (size_t)n * sizeof *right);
    for (int c = 0; c < descent->penalty.n_contacts; c++) {
        if (!descent->counts[c])
            continue;
        row one = row_of(descent, &descent->contacts[c]);
        for (int a = 0; a < one.n; a++) {
            right[one.at[a]] -= one.by[a] * one.short_mm;
            for (int b = 0; b < one.n; b++)
                if (one.at[b] <= one.at[a])
                    matrix[one.at[a] * n + one.at[b]] += one.by[a] * one.by[b];
        }
    }
}

/* Solves (matrix + damping) x = right in place; only the lower half is read and written. */
static void solve(double *matrix, double *x, int n, double damping)
{
    for (int i = 0; i < n; i++) {
        double *of_i = matrix + i * n;
        of_i[i] += damping;
        for (int j = 0; j < i; j++) {
            const double *of_j = matrix + j * n;
            of_i[j] = (of_i[j] - ks_relax_dot(of_i, of_j, j)) / of_j[j];
        }
        of_i[i] -= ks_relax_dot(of_i, of_i, i);
        of_i[i] = sqrt(fmax(of_i[i], 1e-3 * damping));
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++)
            x[i] -= matrix[i * n + k] * x[k];
        x[i] /= matrix[i * n + i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            x[i] -= matrix[k * n + i] * x[k];
        x[i] /= matrix[i * n + i];
    }
}

/* Lists shortfalls, and as negative ones the pairs that are less than `near_mm` from being short;
 * returns the penalty of the real ones. */
static double list_strain(ks_descent *descent, double near_mm)
{
    ks_penalty *penalty = &descent->penalty;
    penalty->contacts = descent->contacts;
    penalty->contact_room = descent->contact_room;
    penalty->n_contacts = 0;
    penalty->aim_mm += near_mm;
    (void)ks_penalty_all(penalty);
    penalty->aim_mm -= near_mm;
    penalty->worst_mm = fmax(penalty->worst_mm - near_mm, 0);
    penalty->contacts = NULL;
    double sum = 0;
    for (int c = 0; c < penalty->n_contacts; c++) {
        double short_mm = descent->contacts[c].short_mm -= near_mm;
        sum += short_mm > 0 ? short_mm * short_mm : 0;
    }
    return sum;
}

/* Lets those count that would be short after the move; false when all do already. */
static bool more_count(ks_descent *descent)
{
    bool *counts = descent->counts;
    bool more = false;
    for (int c = 0; c < descent->penalty.n_contacts; c++) {
        if (counts[c])
            continue;
        row one = row_of(descent, &descent->contacts[c]);
        double short_mm = one.short_mm;
        for (int a = 0; a < one.n; a++)
            short_mm += one.by[a] * descent->move[one.at[a]];
        counts[c] = short_mm > 0;
        more = more || counts[c];
    }
    return more;
}

/* The damped least move that makes good for all that is short, and for what it would make so. */
static void find_move(ks_descent *descent, double damping)
{
    enum { ROUNDS = 4 };
    int n = descent->n_values;
    for (int c = 0; c < descent->penalty.n_contacts; c++)
        descent->counts[c] = descent->contacts[c].short_mm > 0;
    for (int round = 0; round < ROUNDS; round++) {
        equations(descent);
        solve(descent->matrix, descent->move, n, damping);
        *descent->penalty.work += n * n * n / 120 + n;
        if (!more_count(descent))
            return;
    }
}

static void move_values(ks_descent *descent)
{
    const double *move = descent->move;
    memcpy(descent->old_value, descent->value, (size_t)descent->n_values * sizeof *move);
    for (int i = 0; i < descent->n_values; i++)
        descent->value[i] += fmax(fmin(move[i], descent->stride_mm), -descent->stride_mm);
    ks_relax_show(descent);
}

static void values_back(ks_descent *descent)
{
    memcpy(descent->value, descent->old_value, (size_t)descent->n_values * sizeof *descent->value);
    ks_relax_show(descent);
}

bool ks_relax_polish(ks_descent *descent)
{
    if (descent->n_values > KS_POLISH_MOST || descent->n_values == 0)
        return false;
    double damping = 1e-6, near_mm = 4 * descent->penalty.worst_mm;
    ks_penalty_list(&descent->penalty, 2 * near_mm);
    descent->penalty_mm2 = list_strain(descent, near_mm);
    for (int step = 0; step < MOST_STEPS && damping < 1; step++) {
        double before = descent->penalty_mm2;
        find_move(descent, damping);
        move_values(descent);
        descent->penalty_mm2 = list_strain(descent, near_mm);
        if (descent->penalty.worst_mm <= descent->penalty.aim_mm + KS_RELAX_DONE_MM)
            return true;
        if (descent->penalty_mm2 > before) {
            values_back(descent);
            descent->penalty_mm2 = list_strain(descent, near_mm);
            damping *= 100;
        } else if (descent->penalty_mm2 > 0.9 * before) {
            return false;
        }
    }
    return false;
}
