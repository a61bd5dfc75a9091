namespace Drainboard.Domain.Cards;

/// <summary>One step of a work card.</summary>
/// <param name="Key">Its name within the card, kept from version to version where the step stays the same: letters, digits and hyphens.</param>
/// <param name="Words">What to do, in the operator's own words; the approved manual is cited by the card, never copied.</param>
/// <param name="Caution">What to guard against at this step; empty where nothing.</param>
/// <param name="SecondPerson">A required inspection: an authorised person who did none of the work inspects it.</param>
/// <param name="Disturbs">What it puts out of its usual state.</param>
/// <param name="Restores">The key of the earlier step whose disturbance it undoes.</param>
public sealed record CardStep(string Key, string Words, string Caution = "", StepCheck Check = StepCheck.Done, StepMeasure? Measure = null, bool SecondPerson = false, Disturbance? Disturbs = null, string? Restores = null);
