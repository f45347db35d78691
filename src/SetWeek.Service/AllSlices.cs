using SetWeek.Service.Calendars;
using SetWeek.Service.Closings;
using SetWeek.Service.Crews;
using SetWeek.Service.Directions;
using SetWeek.Service.Exports;
using SetWeek.Service.Feed;
using SetWeek.Service.Figures;
using SetWeek.Service.Following;
using SetWeek.Service.HandOvers;
using SetWeek.Service.Http;
using SetWeek.Service.KitDelays;
using SetWeek.Service.Kits;
using SetWeek.Service.Nights;
using SetWeek.Service.Notifications;
using SetWeek.Service.Printing;
using SetWeek.Service.Openings;
using SetWeek.Service.Plans;
using SetWeek.Service.Questions;
using SetWeek.Service.Revisions;
using SetWeek.Service.Risks;
using SetWeek.Service.Snags;
using SetWeek.Service.Stores;
using SetWeek.Service.Trials;
using SetWeek.Service.WalkThroughs;
using SetWeek.Service.Webhooks;
using SetWeek.Service.Weeks;
using SetWeek.Service.Work;

namespace SetWeek.Service;

/// <summary>The list of all slices. A new slice is a file of its own and a line here.</summary>
public static class AllSlices
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.Command<OpenStore>();
        routes.Query<ReadStore>();
        routes.Query<ListStores>();
        routes.Command<IssueDirection>();
        routes.Command<ReviseDirection>();
        routes.Query<ReadDirection>();
        routes.Query<ListDirections>();

        routes.Command<OpenWeek>();
        routes.Query<ReadWeek>();
        routes.Query<ListWeeks>();
        routes.Query<ReadWeekFile>();
        routes.Query<ReadHistory>();
        routes.Query<ReadNightSheet>();
        routes.Query<FindTonight>();
        routes.Query<ReadNightPaper>();
        routes.Query<ReadOpening>();
        routes.Report<RecordOpening>();
        routes.Report<RecordArrival>();
        routes.Report<RecordLeaving>();
        routes.Query<ReadClosing>();
        routes.Report<RecordClosing>();
        routes.Query<ReadWalkThrough>();
        routes.Report<RecordLook>();
        routes.Query<ReadHandOver>();
        routes.Command<AcceptWeek>();
        routes.Command<WithdrawAcceptance>();
        routes.Command<RequestPlan>();
        routes.Query<ReadPlan>();
        routes.Query<ListPlans>();
        routes.Stream<ReadProgress>();
        routes.Command<PublishPlan>();
        routes.Query<ReadPublishedPlan>();
        routes.Query<ReadWorkbook>();
        routes.Query<ReadHours>();
        routes.Query<ReadWallChart>();
        routes.Query<ReadWallChartPdf>();
        routes.Query<ReadChanges>();
        routes.Query<ReadTold>();
        routes.Command<TellPeople>();
        routes.Query<ReadPersonChanges>();
        routes.Command<RetractTelling>();
        routes.Command<AnswerChanges>();
        routes.Query<TryChanges>();
        routes.Command<AcceptChanges>();
        routes.Command<AcceptRepair>();
        routes.Query<PriceCertainty>();
        routes.Query<ReadWhy>();
        routes.Query<ReadPublishedWhy>();
        routes.Query<ReadRisk>();
        routes.Query<ReadPublishedRisk>();

        routes.Command<SetNight>();
        routes.Command<DropNight>();
        routes.Command<MoveLaunch>();
        routes.Command<SetRules>();
        routes.Command<SetGoals>();
        routes.Command<SetZone>();
        routes.Command<SetEquipment>();
        routes.Command<SetDisplay>();
        routes.Command<ChooseDisplay>();
        routes.Command<SetTask>();
        routes.Command<DropTask>();
        routes.Command<TakeDirection>();
        routes.Command<AddPin>();
        routes.Command<RemovePin>();

        routes.Command<ExpectKit>();
        routes.Command<DelayKit>();
        routes.Report<TakeKitIn>();
        routes.Query<ReadKits>();
        routes.Query<ReadKit>();
        routes.Query<ListWaitingKits>();
        routes.Command<SettleLine>();
        routes.Command<DelayKits>();
        routes.Query<ReadKitDelay>();
        routes.Command<CancelKitDelay>();
        routes.Command<UnsettleLine>();
        routes.Query<ReadCrew>();
        routes.Command<JoinCrew>();
        routes.Command<ChangeCrew>();
        routes.Command<MarkAbsent>();
        routes.Command<RetractAbsence>();
        routes.Command<ErasePerson>();
        routes.Command<AddCalendar>();
        routes.Command<RemoveCalendar>();
        routes.Report<StartWork>();
        routes.Report<ProgressWork>();
        routes.Report<PauseWork>();
        routes.Report<ResumeWork>();
        routes.Report<FinishWork>();
        routes.Report<BlockWork>();
        routes.Report<ReopenWork>();
        routes.Report<StopWork>();
        routes.Command<LiftStop>();
        routes.Report<RetractReport>();
        routes.Reports<TakeReports>();
        routes.Query<ListBlocks>();

        routes.Report<RaiseSnag>();
        routes.Query<ReadSnags>();
        routes.Query<ReadSnag>();
        routes.Query<ReadSnagForm>();
        routes.Report<FixSnag>();
        routes.Report<ReopenSnag>();
        routes.Report<HandOnSnag>();
        routes.Report<AcceptSnag>();
        routes.Query<ListSnags>();

        routes.Command<Photos.AddPhoto>();
        routes.Query<Photos.ListPhotos>();
        routes.Query<Photos.ReadPhoto>();
        routes.Query<Photos.ReadThumbnail>();
        routes.Command<Photos.ErasePhoto>();

        routes.Command<AskQuestion>();
        routes.Command<AnswerQuestion>();
        routes.Query<ReadWeekQuestions>();
        routes.Query<ReadQuestions>();

        routes.Query<ReadFeed>();
        routes.Stream<StreamFeed>();
        routes.Command<AddWebhook>();
        routes.Query<ReadWebhooks>();
        routes.Command<RemoveWebhook>();
        routes.Command<RotateSecret>();
        routes.Query<ReadDeadLetters>();
        routes.Command<ReplayDeadLetters>();
        routes.Command<DropDeadLetters>();
        routes.Query<ReadFollowers>();
        routes.Query<ReadFigures>();
        routes.Command<RebuildFigures>();
    }
}
