using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Makes the jobs of an image: their ties, their groups of one night, and where each may start.</summary>
internal sealed class JobList
{
    private readonly Image image;
    private readonly Problem problem;
    private readonly Job[] jobs;

    public JobList(Image image)
    {
        this.image = image;
        problem = image.Problem;
        jobs = new Job[image.Stints + image.Zones * image.Nights];
        foreach (var stint in problem.Stints) jobs[stint.Index] = Placed(stint);
        for (var zone = 0; zone < image.Zones; zone++)
            for (var night = 0; night < image.Nights; night++)
                jobs[image.CleanDown(zone, night)] = CleanDown(zone, night);
        Bind();
        RankByPrecedence();
        Group();
        foreach (var job in jobs.OrderByDescending(job => job.Rank)) SetLatest(job);
        // Clean-downs first: a stint may lie only in a night in which its zone can be cleaned after it.
        foreach (var job in jobs.Skip(image.Stints).Concat(jobs.Take(image.Stints)))
            if (!job.Fixed) job.Manners = [.. MannersOf(job)];
        foreach (var job in jobs.Take(image.Stints).OrderByDescending(job => job.Rank)) SetTail(job);
    }

    public Job[] All => jobs;

    private Job Placed(Stint stint) => new()
    {
        Index = stint.Index,
        Task = stint.Task.Index,
        Display = stint.Task.Display,
        Zone = stint.Task.Zone,
        Final = stint.Task.Last,
        Shuts = stint.IsLast ? stint.Task.ClosesZone : 0,
        Fixed = problem.Facts?.Begun[stint.Index] is not null,
        Soils = !stint.Task.Last && problem.Zones[stint.Task.Zone].CleanDown is not null,
        Earliest = Math.Max(Math.Max(stint.Task.KitsIn, image.Now), problem.Facts?.NotBefore[stint.Index] ?? -Problem.Never),
        Latest = Math.Min(StillAhead(stint.Task.Due), StillAhead(problem.Launch)),
    };

    private Job CleanDown(int zone, int night) => new()
    {
        Index = image.CleanDown(zone, night),
        Task = -1,
        Display = -1,
        Zone = zone,
        CleanDownNight = night,
        Fixed = BegunCleanDown(zone, night),
        Earliest = image.Now,
        Latest = StillAhead(problem.Launch),
    };

    /// <summary>A moment that has passed binds nothing any more: what is late is planned on.</summary>
    private int StillAhead(int minute) => minute > image.Now ? minute : Problem.Never;

    private bool BegunCleanDown(int zone, int night) =>
        problem.Facts?.BegunCleanDowns.Any(work => work.Zone == zone && work.Night == night) == true;

    private void Bind()
    {
        var (before, after) = (Lists(), Lists());
        void Tie(int first, int then, int lag)
        {
            before[then].Add(new(first, lag));
            after[first].Add(new(then, lag));
        }
        foreach (var task in problem.Activities)
        {
            for (var stint = task.FirstStint + 1; stint < task.FirstStint + task.StintCount; stint++) Tie(stint - 1, stint, 0);
            foreach (var link in task.After) Tie(LastStint(link.Task), task.FirstStint, link.DryMinutes);
        }
        foreach (var job in jobs) (job.Before, job.After) = ([.. before[job.Index]], [.. after[job.Index]]);

        List<Tie>[] Lists() => [.. jobs.Select(_ => new List<Tie>())];
    }

    private int LastStint(int task) => problem.Activities[task].FirstStint + problem.Activities[task].StintCount - 1;

    private void RankByPrecedence()
    {
        var waiting = jobs.Select(job => job.Before.Length).ToArray();
        var ready = new Queue<Job>(jobs.Where(job => job.Before.Length == 0));
        var rank = 0;
        while (ready.TryDequeue(out var job))
        {
            job.Rank = rank++;
            foreach (var tie in job.After)
                if (--waiting[tie.Job] == 0) ready.Enqueue(jobs[tie.Job]);
        }
    }

    private void Group()
    {
        var leader = Enumerable.Range(0, image.Stints).ToArray();
        int Find(int job) => leader[job] == job ? job : leader[job] = Find(leader[job]);
        foreach (var task in problem.Activities)
            foreach (var link in task.After.Where(link => link.SameNight && !Lapsed(LastStint(link.Task))))
                for (var number = 0; number < task.StintCount; number++)
                    leader[Find(task.FirstStint + number)] = Find(LastStint(link.Task));
        foreach (var group in jobs.Take(image.Stints).GroupBy(job => Find(job.Index)))
        {
            int[] free = [.. group.Where(job => !job.Fixed).OrderBy(job => job.Rank).Select(job => job.Index)];
            var begun = group.Where(job => job.Fixed).Select(job => problem.Facts!.Begun[job.Index]!.Night);
            var night = begun.DefaultIfEmpty(-1).Last();
            foreach (var job in group) (job.Group, job.GroupNight) = (free, night);
        }
    }

    /// <summary>Same-night lapses once the night of the work before it is over.</summary>
    private bool Lapsed(int stint) => problem.Facts?.Begun[stint] is { } begun && problem.Nights[begun.Night].Closes <= image.Now;

    /// <summary>What surely follows a job has to be in time as well. What may be left out is not counted.</summary>
    private void SetLatest(Job job)
    {
        foreach (var tie in job.After)
        {
            var then = jobs[tie.Job];
            if (!then.Fixed && (then.Display == job.Display || Sure(then.Display)))
                job.Latest = Math.Min(job.Latest, LatestStart(then) - tie.Lag);
        }
        if (!job.Final && image.Problem.LastActivity is { } final && Sure(final.Display) && !jobs[final.FirstStint].Fixed)
            job.Latest = Math.Min(job.Latest, LatestStart(jobs[final.FirstStint]));
    }

    /// <summary>The longest way through what follows in the same night.</summary>
    private void SetTail(Job job)
    {
        foreach (var tie in job.After)
            if (jobs[tie.Job] is { Manners.Length: > 0 } then && job.Group.Contains(tie.Job))
                job.Tail = Math.Max(job.Tail,
                    (tie.Lag + image.Grid - 1) / image.Grid + then.Manners.Min(manner => manner.Slots) + then.Tail);
    }

    private bool Sure(int display) => problem.Facts?.StaysPlaced[display] == true
        || problem.Displays[display] is { Must: true, Alternate: null, InsteadOf: null };

    private int LatestStart(Job job)
    {
        var shortest = Enumerable.Range(0, problem.Activities[job.Task].Ways.Count)
            .Min(mode => problem.MinutesOf(problem.Stints[job.Index], mode));
        for (var night = image.Nights - 1; night >= 0; night--)
        {
            var end = Math.Min(image.WorkTo[night], image.SlotAtOrBefore(night, job.Latest));
            if (end - shortest / image.Grid >= image.WorkFrom[night]) return image.Minute(night, end) - shortest;
        }
        return -Problem.Never;
    }

    private IEnumerable<Manner> MannersOf(Job job)
    {
        if (job.CleanDownNight >= 0)
        {
            if (problem.Zones[job.Zone].CleanDown is { } down
                && Made(job, 0, down, down.Minutes) is { } manner)
                yield return manner;
            yield break;
        }
        var stint = problem.Stints[job.Index];
        var kept = problem.Facts?.KeptMode[job.Index];
        for (var mode = 0; mode < stint.Task.Ways.Count; mode++)
            if (kept is null || kept == mode)
                if (Made(job, mode, stint.Task.Ways[mode], problem.MinutesOf(stint, mode)) is { } manner) yield return manner;
    }

    private Manner? Made(Job job, int mode, Way way, int minutes)
    {
        if (way.People > problem.Zones[job.Zone].MaxPeople
            || way.Equipment.Any(piece => piece.Count > problem.EquipmentCounts[piece.Equipment]))
            return null;
        var seats = way.Posts
            .SelectMany(post => Enumerable.Repeat(new Seat(EligibleFor(job, post), post.Skill), post.People))
            .OrderBy(seat => ulong.PopCount(seat.Eligible)).ThenBy(seat => seat.Skill).ToArray();
        if (seats.Any(seat => seat.Eligible == 0)) return null;
        var starts = new ulong[image.Nights * image.Words];
        var slots = minutes / image.Grid;
        for (var night = 0; night < image.Nights; night++)
            FillStarts(job, seats.Length > 0, slots, night, starts.AsSpan(night * image.Words, image.Words));
        return starts.All(word => word == 0) ? null : new Manner(mode, slots, minutes, seats, way.Equipment, starts);
    }

    private ulong EligibleFor(Job job, Post post)
    {
        var traits = job.Task < 0 ? null : problem.Activities[job.Task].Traits;
        var eligible = 0UL;
        foreach (var person in problem.Crew)
            if (person.Has(post) && (traits is null || !person.Barred.Any(traits.Contains))) eligible |= 1UL << person.Index;
        return eligible;
    }

    private void FillStarts(Job job, bool manned, int slots, int night, Span<ulong> starts)
    {
        if (job.CleanDownNight >= 0 ? job.CleanDownNight != night : job.GroupNight >= 0 && job.GroupNight != night) return;
        if (job.Soils && jobs[image.CleanDown(job.Zone, night)] is { Manners: [] } cleanDown)
            if (cleanDown.Fixed || problem.Nights[night].Closes > image.Now) return;
        var from = Math.Max(image.SlotAtOrAfter(night, job.Earliest), manned ? image.WorkFrom[night] : 0);
        var to = Math.Min(image.SlotAtOrBefore(night, job.Latest), manned ? image.WorkTo[night] : image.SlotCounts[night]);
        if (job.Soils) to = Math.Min(to, image.WorkTo[night] - problem.Zones[job.Zone].CleanDown!.Minutes / image.Grid);
        if (to - slots < from) return;
        Slots.Add(starts, from, to - slots + 1);
        if (job.Task < 0) return;
        foreach (var ban in problem.Nights[night].Bans)
            if (problem.Activities[job.Task].Traits.Contains(ban.Trait))
            {
                var begin = (int)Math.Floor((ban.Span.From - image.Opens[night]) / (double)image.Grid);
                Slots.Remove(starts, Math.Max(0, begin - slots + 1),
                    Math.Clamp(image.SlotAtOrAfter(night, ban.Span.To), 0, image.Width));
            }
    }
}
