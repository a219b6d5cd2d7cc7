/** A stay in one state, in whole weeks since first fitting; `to` is past the last week where it goes on after it. */
export interface CourseStretch {
  readonly state: string;
  readonly from: number;
  readonly to: number;
}

/** The therapy of one foot without anything that says whose it is: times are rounded to whole weeks. */
export interface Course {
  readonly stretches: readonly CourseStretch[];
  /** `in therapy` also for a foot that was lost to follow-up or moved away. */
  readonly end: 'finished' | 'left' | 'in therapy';
  /** Week in which the foot was first seen corrected. */
  readonly corrected?: number;
  readonly relapses: readonly number[];
}

/** Courses of feet drawn at random, at most one of an infant, ordered by how long they were followed. */
export interface CourseSample {
  readonly states: readonly string[];
  readonly courses: readonly Course[];
  /** The feet and infants they were drawn from. */
  readonly n: number;
  readonly infants: number;
}
