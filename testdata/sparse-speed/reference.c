/* Times CHOLMOD's supernodal Cholesky with METIS' nested dissection on a matrix written by speed.py: CPU seconds,
   medians of three. Prints one line of JSON. Build: cc -O2 reference.c -lcholmod -lopenblas */
#include <stdio.h>
#include <stdlib.h>
#include <suitesparse/cholmod.h>
#include <time.h>

static double now(void) { return clock() / (double)CLOCKS_PER_SEC; }

static int ascending(const void *a, const void *b) {
	double d = *(const double *)a - *(const double *)b;
	return (d > 0) - (d < 0);
}

static double median(double t[3]) {
	qsort(t, 3, sizeof *t, ascending);
	return t[1];
}

int main(int argc, char **argv) {
	enum { columns = 20 };
	FILE *in = argc == 2 ? fopen(argv[1], "rb") : NULL;
	int64_t size[2];
	if (!in || fread(size, sizeof *size, 2, in) != 2) return 2;
	cholmod_common c;
	cholmod_start(&c);
	c.nmethods = 1;
	c.method[0].ordering = CHOLMOD_METIS;
	c.postorder = 1;
	c.supernodal = CHOLMOD_SUPERNODAL;
	/* the lower triangle, by columns */
	cholmod_sparse *k = cholmod_allocate_sparse(size[0], size[0], size[1], 1, 1, -1, CHOLMOD_REAL, &c);
	if (fread(k->p, 4, size[0] + 1, in) != size[0] + 1 || fread(k->i, 4, size[1], in) != size[1] ||
	    fread(k->x, 8, size[1], in) != size[1])
		return 2;
	cholmod_dense *one = cholmod_ones(size[0], 1, CHOLMOD_REAL, &c), *many = cholmod_ones(size[0], columns, CHOLMOD_REAL, &c);
	double analyse[3], factor[3], solve[3], solves[3], nonzeros = 0, store = 0;
	for (int i = 0; i < 3; i++) {
		double t = now();
		cholmod_factor *l = cholmod_analyze(k, &c);
		analyse[i] = now() - t;
		nonzeros = c.lnz;
		t = now();
		cholmod_factorize(k, l, &c);
		factor[i] = now() - t;
		store = l->xsize * 8.;
		t = now();
		cholmod_dense *x = cholmod_solve(CHOLMOD_A, l, one, &c);
		solve[i] = now() - t;
		cholmod_free_dense(&x, &c);
		t = now();
		x = cholmod_solve(CHOLMOD_A, l, many, &c);
		solves[i] = now() - t;
		cholmod_free_dense(&x, &c);
		cholmod_free_factor(&l, &c);
	}
	printf("{\"analyse\": %g, \"factor\": %g, \"solve\": %g, \"twenty\": %g, \"nonzeros\": %g, \"store\": %g, \"peak\": %zu}\n",
	       median(analyse), median(factor), median(solve), median(solves), nonzeros, store, c.memory_usage);
	return c.status != CHOLMOD_OK;
}
