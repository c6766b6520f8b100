"""The car A/C simulator: pure functions of SI numbers. The one door for everybody else is course.physics.bench.run_bench."""
