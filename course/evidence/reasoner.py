"""A reasoner that makes no mistakes: how probable each trouble is, given what was read, by Bayes' rule and nothing else."""

import numpy as np

PIECES = 160  # how finely the badness of a trouble is summed over


def between_runs(badness, readings, spread, pieces=PIECES):
    """Readings and spread at many badnesses, straight between the runs there are.

    Parameters
    ----------
    badness : numpy.ndarray
        Where there are runs, rising [-].
    readings : numpy.ndarray
        One row a run.
    spread : numpy.ndarray
        One covariance a run.
    pieces : int
        How many are wanted.

    Returns
    -------
    tuple of numpy.ndarray
        Rows and covariances in the middle of equal pieces.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Every piece is as likely as any other: badness is spread evenly.

    Examples
    --------
    >>> rows, _ = between_runs(np.array([0.0, 1.0]), np.array([[0.0], [4.0]]), np.zeros((2, 1, 1)), pieces=2)
    >>> [float(value) for value in rows[:, 0]]
    [1.0, 3.0]
    """
    edges = np.linspace(badness[0], badness[-1], pieces + 1)
    middles = 0.5 * (edges[1:] + edges[:-1])
    together = np.concatenate([readings, spread.reshape(len(badness), -1)], axis=1)
    columns = np.array([np.interp(middles, badness, column) for column in together.T]).T
    size = readings.shape[1]
    return columns[:, :size], columns[:, size:].reshape(pieces, size, size)


def log_likelihood(measured, readings, covariance):
    """How well a trouble explains what was measured, whatever its badness.

    Parameters
    ----------
    measured : numpy.ndarray
        One row a case.
    readings : numpy.ndarray
        What is to be expected: one row a badness, all equally likely.
    covariance : numpy.ndarray
        Of the errors, one matrix a badness.

    Returns
    -------
    numpy.ndarray
        Logarithm of the probability density, one a case.

    Raises
    ------
    numpy.linalg.LinAlgError
        When a covariance is not positive.

    Notes
    -----
    Normal errors, summed over badness: log of the mean of N(measured; readings, covariance).

    Examples
    --------
    One reading that is right on the spot, with an error of one: 1 over the root of 2 pi:

    >>> round(float(np.exp(log_likelihood(np.array([[3.0]]), np.array([[3.0]]), np.array([[[1.0]]])))[0]), 4)
    0.3989
    """
    lower = np.linalg.cholesky(covariance)
    off = measured[None, :, :] - readings[:, None, :]
    scaled = np.linalg.solve(lower, np.swapaxes(off, 1, 2))
    diagonal = np.log(np.diagonal(lower, axis1=1, axis2=2)).sum(axis=1)
    size = measured.shape[1]
    logs = -0.5 * (scaled**2).sum(axis=1) - diagonal[:, None] - 0.5 * size * np.log(2.0 * np.pi)
    top = logs.max(axis=0)
    return top + np.log(np.exp(logs - top).mean(axis=0))


def probabilities(log_likelihoods, rates):
    """How probable each trouble is: Bayes' rule.

    Parameters
    ----------
    log_likelihoods : numpy.ndarray
        One row a case, one column a trouble.
    rates : numpy.ndarray
        How often each trouble is met, before anything is read [-].

    Returns
    -------
    numpy.ndarray
        One row a case; each sums to one.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Probability after = rate x likelihood, divided by the sum over the troubles.

    Examples
    --------
    A test that is four times as likely under the first as under the second, which is twice as common: two to one:

    >>> after = probabilities(np.log([[0.8, 0.2]]), np.array([1.0, 2.0]) / 3.0)
    >>> [round(float(value), 3) for value in after[0]]
    [0.667, 0.333]
    """
    weighted = log_likelihoods + np.log(rates)
    weighted = np.exp(weighted - weighted.max(axis=1, keepdims=True))
    return weighted / weighted.sum(axis=1, keepdims=True)
