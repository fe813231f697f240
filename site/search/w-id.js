bayleaf.words("id",{"idle":"0:s;3:k","idling":"3:l"});
