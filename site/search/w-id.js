bayleaf.words("id",{"idle":"0:s;3:l","idling":"3:m"});
